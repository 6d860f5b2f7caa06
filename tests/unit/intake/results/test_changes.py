"""Results that change faster than any body does."""

from datetime import datetime, timedelta

import pytest

from app.intake.results.changes import in_order, one_calcium_in_doubt
from app.patient.observation import Observation


def series(now: datetime, name: str, *figures: tuple[int, float]) -> list[Observation]:
    """Values by how many minutes ago they were taken."""
    return [
        Observation(name, value, "", now - timedelta(minutes=ago), f"{value:g}")
        for ago, value in figures
    ]


@pytest.mark.parametrize(
    ("name", "figures"),
    [("potassium", ((20, 7.9), (10, 4.1))), ("potassium", ((20, 4.1), (10, 7.9))),
     ("sodium", ((60, 152.0), (40, 128.0))), ("glucose", ((30, 31.0), (15, 5.2))),
     ("haemoglobin", ((60, 121.0), (50, 62.0))), ("potassium", ((10, 5.9), (10, 4.1)))],
)  # fmt: skip
def test_the_newest_is_doubted(
    now: datetime, name: str, figures: tuple[tuple[int, float], ...]
) -> None:
    newest = in_order(series(now, name, *figures))[0]
    assert newest.value is None
    assert all(f"{value:g}" in newest.doubt for _, value in figures)


@pytest.mark.parametrize(
    ("name", "figures"),
    [("potassium", ((20, 4.0), (10, 4.3))), ("potassium", ((300, 6.8), (60, 4.9))),
     ("glucose", ((40, 2.1), (20, 11.0))), ("sodium", ((65, 138.0), (60, 135.0))),
     ("potassium", ((120, 6.6), (90, 4.2), (30, 4.1))), ("lactate", ((20, 9.0), (10, 3.0)))],
)  # fmt: skip
def test_what_may_be_is_not_doubted(
    now: datetime, name: str, figures: tuple[tuple[int, float], ...]
) -> None:
    assert in_order(series(now, name, *figures))[0].value == figures[-1][1]


def test_a_third_figure_bears_the_newest_out(now: datetime) -> None:
    figures = ((50, 4.2), (20, 7.9), (10, 4.1))
    assert in_order(series(now, "potassium", *figures))[0].value == 4.1


def test_one_calcium_that_does_not_fit_the_other_is_doubted(now: datetime) -> None:
    results = {name: tuple(series(now, name, (10, value)))
               for name, value in (("calcium_ionised", 2.3), ("calcium_total", 2.3))}  # fmt: skip
    assert one_calcium_in_doubt(results)["calcium_ionised"][0].value is None
