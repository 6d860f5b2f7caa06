"""The time limits of blood that has left its fridge."""

import pytest

from app.lines.blood import blood_faults, blood_window, too_long
from app.lines.model import Run
from tests.unit.lines.build import dose


@pytest.mark.parametrize(
    ("leaves", "minutes", "window"),
    [(0, 120, (0, 150)), (60, 180, (60, 270)), (60, 240, (60, 300)), (0, 300, (0, 240))],
)
def test_blood_starts_within_half_an_hour_and_ends_within_four_hours(
    leaves: int, minutes: int, window: tuple[int, int]
) -> None:
    assert blood_window(leaves, minutes) == window


@pytest.mark.parametrize(
    ("start", "end", "said"),
    [
        (60, 240, ()),
        (90, 300, ()),
        (91, 271, ("start 31 min after leaving",)),
        (60, 301, ("end 241 min after leaving",)),
        (95, 305, ("start 35 min after leaving", "end 245 min after leaving")),
        (50, 200, ("before it leaves the fridge",)),
    ],
)
def test_a_run_outside_the_limits_is_told_with_its_minutes(
    start: int, end: int, said: tuple[str, ...]
) -> None:
    found = blood_faults(dose("red cells", end - start), Run(start, end), leaves_fridge_min=60)
    assert len(found) == len(said)
    assert all(words in fault for words, fault in zip(said, found, strict=True))


def test_every_start_in_the_window_keeps_both_limits() -> None:
    for minutes in (60, 210, 240):
        earliest, latest = blood_window(100, minutes)
        for start in range(earliest, latest - minutes + 1):
            run = Run(start, start + minutes)
            assert not blood_faults(dose("red cells", minutes), run, leaves_fridge_min=100)


def test_blood_that_takes_more_than_four_hours_is_too_long() -> None:
    assert too_long(dose("red cells", 241, kind="blood"))
    assert not too_long(dose("red cells", 240, kind="blood"))
    assert not too_long(dose("vancomycin", 300))
