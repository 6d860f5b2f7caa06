"""A finding says when the results behind it were taken."""

from datetime import UTC, datetime, timedelta

import pytest

from app.patient.observation import Observation
from app.patient.snapshot import Snapshot
from app.web.advice.taken import dated_figures, taken_words

NOW = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)
EARLY = NOW - timedelta(hours=1, minutes=30)


def patient(**taken: tuple[float, datetime | None]) -> Snapshot:
    """A patient with these results, each with the time it was taken."""
    results = {
        name: (Observation(name, value, "mmol/L", when),) for name, (value, when) in taken.items()
    }
    return Snapshot(NOW, "adult ward", results=results)


def test_a_result_says_its_time_and_its_age() -> None:
    (figure,) = dated_figures({"potassium_mmol_l": 6.1}, patient(potassium=(6.1, EARLY)))
    assert (figure.value, figure.note) == ("6.1 mmol/L", "at 05:35, 1 h 30 min ago")


def test_what_the_fluid_holds_has_no_age() -> None:
    figures = {"fluid_potassium_mmol_l": 40.0, "litres": 1.0}
    assert [f.note for f in dated_figures(figures, patient(potassium=(6.1, EARLY)))] == ["", ""]


def test_a_figure_that_is_not_the_newest_result_is_given_no_age() -> None:
    (figure,) = dated_figures({"potassium_mmol_l": 5.5}, patient(potassium=(6.1, EARLY)))
    assert figure.note == ""


def test_a_result_without_a_time_says_so() -> None:
    (figure,) = dated_figures({"potassium_mmol_l": 6.1}, patient(potassium=(6.1, None)))
    assert figure.note == "time not known"


@pytest.mark.parametrize(
    ("chloride_at", "said"),
    [
        (EARLY, "pH and chloride taken 05:35"),
        (NOW - timedelta(minutes=15), "pH taken 05:35; chloride taken 06:50"),
    ],
)
def test_results_of_one_time_are_named_together(chloride_at: datetime, said: str) -> None:
    sick = patient(ph=(7.27, EARLY), chloride=(117.0, chloride_at))
    assert taken_words({"ph": 7.27, "chloride_mmol_l": 117.0}, sick) == said


def test_a_finding_without_results_says_nothing_of_time() -> None:
    assert taken_words({"line": "together"}, patient()) == ""
