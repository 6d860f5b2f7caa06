"""What stands beside the figures of a rate."""

import pytest

from app.intake.pace.clauses import Place, not_given, place_of, steps_of, without_asides


@pytest.mark.parametrize(
    ("said", "left"),
    [
        ("was 125, now 75 ml/h", "now 75 ml/h"), ("reduce from 125 to 75 ml/h", "reduce 75 ml/h"),
        ("100 ml/h, aim urine 0.5 ml/kg/h", "100 ml/h"), ("125 newly 60 ml/h", "60 ml/h"),
        ("60 ml/h stop if na >150", "60 ml/h"), ("s/p 2 l bolus, now 125 ml/h", "now 125 ml/h"),
        ("75 ml/h. fluid restriction 1.5 l/day", "75 ml/h"), ("75/h, on insulin 3 units/h", "75/h"),
        ("max 3 x 250 ml", "max 3 x 250 ml"), ("max 150 ml/h", ""),
    ],
)  # fmt: skip
def test_what_was_or_is_aimed_at_is_no_figure_of_the_rate(said: str, left: str) -> None:
    assert without_asides(said).strip(" ,;.") == left


@pytest.mark.parametrize(
    ("said", "steps"),
    [
        ("250/h x 2h then 125/h", ["250/h x 2h", "125/h"]), ("over 4 h then review",
        ["over 4 h", "review"]), ("50 ml/h increasing to 75 ml/h after 4 h",
        ["50 ml/h for 4 h", "75 ml/h"]), ("75, increase to 100 if tolerating", ["75"]),
        ("1 l over 1 h, 1 l over 2 h", ["1 l over 1 h", "1 l over 2 h"]),
        ("1 l, over 2 h", ["1 l, over 2 h"]), ("", [""]),
    ],
)  # fmt: skip
def test_one_thing_after_another_is_parted(said: str, steps: list[str]) -> None:
    assert [" ".join(step.split()) for step in steps_of(said)] == steps


@pytest.mark.parametrize(
    ("said", "place"),
    [
        ("over 8 h, bag 1 of 2", Place(1, False)), ("bag 2/2", Place(2, True)),
        ("2nd bag 12/24", Place(2, True)), ("first litre", Place(1, False)),
        ("start when first bag finishes", Place(0, True)), ("to follow", Place(0, True)),
        ("1 bag 8 hourly", Place()), ("125 ml/h", Place()),
    ],
)  # fmt: skip
def test_the_place_among_several_bags_is_read(said: str, place: Place) -> None:
    assert place_of(said) == place


@pytest.mark.parametrize(
    "said",
    ["on hold", "held - 125 ml/h", "stopped 0500 (was 100 ml/h)", "125 ml/h d/cd", "hold",
     "hold until potassium back", "off", "duplicate order",
     "0.9% saline 125 ml/h not to be given", "completed at 06:00",
     "hartmanns 100 ml/h - ceased", "on hold pending theatre"],
)  # fmt: skip
def test_words_that_say_it_does_not_run_are_heard(said: str) -> None:
    assert not_given(said)


@pytest.mark.parametrize(
    "said",
    ["do not stop, 100 ml/h", "100 ml/h, hold if sbp >180", "60 ml/h, antibiotics stopped today",
     "75 ml/h, on hold of antihypertensives", "stopped, restarted 0600 at 60 ml/h",
     "not to be given with ceftriaxone", "stop at 18:00", "resus completed, 100 ml/h"],
)  # fmt: skip
def test_what_stops_something_else_or_later_leaves_it_running(said: str) -> None:
    assert not not_given(said)
