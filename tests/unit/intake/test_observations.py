"""Results as laboratories send them: used, converted, or doubted in words."""

from datetime import datetime
from typing import Any

import pytest

from app.intake.observations import read_observations
from app.intake.request import Problems, Reader
from app.intake.vocabulary import Vocabulary
from app.patient.observation import Observation

TAKEN = "2031-03-04T06:00:00Z"


class Laboratory:
    """Sends results and hands back what was read."""

    def __init__(self, vocabulary: Vocabulary, now: datetime) -> None:
        self.vocabulary, self.now, self.problems = vocabulary, now, Problems()

    def all(self, *rows: dict[str, Any]) -> dict[str, tuple[Observation, ...]]:
        """All results by name."""
        readers = tuple(
            Reader(row, f"observations[{n}]", self.problems) for n, row in enumerate(rows)
        )
        return dict(read_observations(readers, self.vocabulary, self.now))

    def one(self, **row: Any) -> Observation:  # noqa: ANN401
        """The only result."""
        ((observation,),) = self.all({"taken_at": TAKEN, **row}).values()
        return observation


@pytest.fixture
def lab(vocabulary: Vocabulary, now: datetime) -> Laboratory:
    """A laboratory at 07:00."""
    return Laboratory(vocabulary, now)


@pytest.mark.parametrize(
    ("name", "value", "unit", "key", "figure"),
    [
        ("potassium", 5.9, "mmol/L", "potassium", 5.9), ("K", 5.9, "mEq/L", "potassium", 5.9),
        ("K+", "5.9", "mmol/l", "potassium", 5.9), ("Na", 128, "meq/l", "sodium", 128),
        ("creatinine", 2.0, "mg/dL", "creatinine", 176.8), ("creat", 310, "µmol/L", "creatinine",
        310),
        ("glucose", 180, "mg/dl", "glucose", 9.99), ("BM", 6.2, "mmol/L", "glucose", 6.2),
        ("Hb", 9.1, "g/dL", "haemoglobin", 91), ("Hct", 0.31, "L/L", "haematocrit", 31),
        ("pCO2", 5.3, "kPa", "pco2", 39.75), ("albumin", 2.8, "g/dL", "albumin", 28),
        ("calcium", 1.2, "mmol/L", "", 0), ("Ca", 9, "mg/dL", "calcium_total", 2.246),
        ("calcium", 2.1, "mmol/L", "calcium_total", 2.1),
        ("iCa", 1.1, "mmol/L", "calcium_ionised", 1.1),
        ("calcium_total", 9, "mg/dL", "calcium_total", 2.246),
        ("magnesium", 2, "mEq/L", "magnesium", 1.0), ("BUN", 28, "mg/dL", "urea", 9.995),
        ("base deficit", 8, "mmol/L", "base_excess", -8), ("pH", 7.31, "", "ph", 7.31),
        ("pH", 7.31, "none", "ph", 7.31), ("pH", 7.31, "unitless", "ph", 7.31),
        ("pH", 7.31, "1", "ph", 7.31), ("Hct", 0.42, "fraction", "haematocrit", 42),
        ("Hct", 42, "vol%", "haematocrit", 42), ("Hct", 42, "none", "haematocrit", 42),
        ("INR", 1.4, None, "inr", 1.4), ("lactate", 4.2, "mmol/L", "lactate", 4.2),
        ("phosphate", 3, "mg/dL", "phosphate", 0.9686), ("K", "5.9 mmol/L", None, "potassium", 5.9),
        ("K", "5,9", "mmol/L", "potassium", 5.9),
    ],
)  # fmt: skip
def test_a_result_comes_in_the_projects_unit(  # noqa: PLR0913 - a row of the table
    lab: Laboratory, name: str, value: float | str, unit: str | None, key: str, figure: float
) -> None:  # fmt: skip
    results = lab.all({"name": name, "value": value, "unit": unit, "taken_at": TAKEN})
    if not key:
        assert not results and "ionised" in lab.problems.questions[0].ask
        return
    (observation,) = results[key]
    assert observation.doubt == ""
    assert observation.value == pytest.approx(figure, rel=1e-3)


def test_a_conversion_is_said(lab: Laboratory) -> None:
    assert (
        lab.one(name="glucose", value=180, unit="mg/dL").converted
        == "180 mg/dL read as 9.991 mmol/L"
    )


@pytest.mark.parametrize(
    ("row", "says"),
    [
        ({"name": "potassium", "value": 59, "unit": "mmol/L"}, "1 to 12 mmol/L"),
        ({"name": "sodium", "value": 14, "unit": "mmol/L"}, "90 to 200"),
        ({"name": "potassium", "value": 5.9, "unit": "mg/dL"}, "unit does not fit"),
        ({"name": "potassium", "value": 5.9, "unit": "furlong"}, "unit does not fit"),
        ({"name": "phosphate", "value": 2, "unit": "mEq/L"}, "no fixed"),
        ({"name": "urea", "value": 30, "unit": "mg/dL"}, "nitrogen"),
        ({"name": "creatinine", "value": 21}, "no unit"),
        ({"name": "BUN", "value": 21}, "no unit"),
        ({"name": "potassium", "value": "haemolysed"}, "not a number"),
        ({"name": "potassium", "value": "<5", "unit": "mmol/L"}, "under 5 mmol/L"),
        ({"name": "sodium", "value": ">130"}, "over 130"),
        ({"name": "potassium", "value": None, "unit": "mmol/L"}, "no value"),
        ({"name": "potassium", "value": True, "unit": "mmol/L"}, "not a number"),
        ({"name": "potassium", "value": float("nan"), "unit": "mmol/L"}, "not a number"),
        ({"name": "potassium", "value": 5.9, "unit": "mmol/L", "note": "haemolysed"}, "haemolysed"),
        ({"name": "sodium", "value": 150, "unit": "mmol/L", "comment": "drip arm"}, "not reliable"),
        ({"name": "sodium", "value": 150, "unit": "mmol/L", "status": "cancelled"}, "not reliable"),
        ({"name": "sodium", "value": "1,250", "unit": "mmol/L"}, "not a number"),
        ({"name": "potassium", "value": 4, "unit": "Mmol/L"}, "mega"),
        ({"loinc": "2160-0", "value": 177, "unit": "umol/L"}, "contradicts its code"),
        ({"loinc": "14749-6", "value": 100, "unit": "mg/dL"}, "contradicts its code"),
        ({"loinc": "1925-7", "value": 24, "unit": "mmol/L"}, "not possible"),
    ],
)  # fmt: skip
def test_a_doubtful_result_is_not_used_and_says_why(
    lab: Laboratory, row: dict[str, Any], says: str
) -> None:
    observation = lab.one(**row)
    assert observation.value is None
    assert says in observation.doubt


def test_haemolysis_does_not_spoil_a_sodium(lab: Laboratory) -> None:
    assert lab.one(name="sodium", value=140, unit="mmol/L", note="haemolysed").value == 140


@pytest.mark.parametrize(
    ("name", "value", "figure"),
    [("creatinine", 310, 310), ("potassium", 5.9, 5.9), ("Hb", 91, 91), ("glucose", 6.2, 6.2)],
)
def test_a_missing_unit_is_read_where_only_one_fits(
    lab: Laboratory, name: str, value: float, figure: float
) -> None:
    assert lab.one(name=name, value=value).value == figure


@pytest.mark.parametrize(
    ("loinc", "value", "unit", "key", "figure"),
    [
        ("2823-3", 5.9, "mmol/L", "potassium", 5.9), ("2160-0", 2, "mg/dL", "creatinine", 176.8),
        ("3094-0", 28, "mg/dL", "urea", 9.995), ("3091-6", 60, "mg/dL", "urea", 9.99),
        ("718-7", 91, "g/L", "haemoglobin", 91), ("2028-9", 24, "mmol/L", "total_co2", 24),
        ("29463-7", 70, "kg", "weight", 70),
    ],
)  # fmt: skip
def test_a_code_says_which_result_it_is(  # noqa: PLR0913 - a row of the table
    lab: Laboratory, loinc: str, value: float, unit: str, key: str, figure: float
) -> None:
    observation = lab.one(loinc=loinc, value=value, unit=unit)
    assert observation.name == key
    assert observation.value == pytest.approx(figure, rel=1e-3)


def test_a_name_nobody_knows_is_asked_about(lab: Laboratory) -> None:
    assert lab.all({"name": "moonlight", "value": 3}) == {}
    assert lab.problems.questions[0].written == "moonlight"


def test_a_result_from_the_future_is_doubted(lab: Laboratory) -> None:
    row = {"name": "potassium", "value": 4, "unit": "mmol/L", "taken_at": "2031-03-04T09:00:00Z"}
    assert "future" in lab.one(**row).doubt


def test_results_come_newest_first_and_repeats_once(lab: Laboratory) -> None:
    rows = [
        {"name": "K", "value": value, "unit": "mmol/L", "taken_at": f"2031-03-04T0{hour}:00:00Z"}
        for value, hour in ((4.0, 1), (5.0, 3), (5.0, 3), (4.5, 2))
    ]
    assert [o.value for o in lab.all(*rows)["potassium"]] == [5.0, 4.5, 4.0]


def test_two_figures_at_one_moment_are_both_doubted(lab: Laboratory) -> None:
    rows = [{"name": "K", "value": v, "unit": "mmol/L", "taken_at": TAKEN} for v in (4.1, 5.9)]
    (observation,) = lab.all(*rows)["potassium"]
    assert observation.value is None
    assert "4.1 mmol/L" in observation.doubt and "5.9 mmol/L" in observation.doubt


def calcium(name: str, value: float, taken_at: str = TAKEN) -> dict[str, Any]:
    return {"name": name, "value": value, "unit": "mmol/L", "taken_at": taken_at}


@pytest.mark.parametrize(
    ("ionised", "total", "doubted"),
    [(2.31, 2.29, "calcium_ionised"), (1.9, 2.4, "calcium_ionised"), (1.2, 1.5, "calcium_total"),
     (1.2, 2.3, ""), (0.9, 1.7, ""), (1.9, 3.4, "")],
)  # fmt: skip
def test_an_ionised_calcium_fits_its_total(
    lab: Laboratory, ionised: float, total: float, doubted: str
) -> None:
    found = lab.all(calcium("iCa", ionised), calcium("calcium_total", total))
    assert [name for name, (one, *_) in found.items() if one.doubt] == [doubted][: bool(doubted)]


def test_calcium_of_another_time_contradicts_nothing(lab: Laboratory) -> None:
    late = calcium("calcium_total", 2.29, "2031-03-04T01:00:00Z")
    found = lab.all(calcium("iCa", 1.9), late)
    assert not any(one.doubt for group in found.values() for one in group)


def test_a_date_alone_gives_no_time(lab: Laboratory) -> None:
    row = {"name": "K", "value": 4, "unit": "mmol/L", "taken_at": "2031-03-04"}
    assert lab.one(**row).taken_at is None and lab.problems.questions


def test_a_time_without_a_zone_is_read_in_the_requests_and_says_so(lab: Laboratory) -> None:
    read = lab.one(name="K", value=4, unit="mmol/L", taken_at="2031-03-04 06:00")
    assert read.taken_at is not None and read.taken_at.hour == 6
    assert read.converted == "time without a zone read as UTC"


@pytest.mark.parametrize(
    ("name", "value", "figure"),
    [("lactate", "<0.5", 0.5), ("ketones", "> 6", 6), ("eGFR", "<15", 15), ("potassium", ">8", 8),
     ("glucose", "over 33.3", 33.3)],
)  # fmt: skip
def test_a_bound_is_used_where_it_is_off_already(
    lab: Laboratory, name: str, value: str, figure: float
) -> None:
    read = lab.one(name=name, value=value, unit="mL/min" if name == "eGFR" else "mmol/L")
    assert read.value == figure
    assert "reported only as" in read.converted


def test_a_result_that_is_not_there_yet_hides_no_earlier_one(lab: Laboratory) -> None:
    earlier = {"name": "K", "value": 4.4, "unit": "mmol/L", "taken_at": "2031-03-04T05:00:00Z"}
    pending = {"name": "K", "value": "pending", "taken_at": TAKEN}
    assert [o.value for o in lab.all(earlier, pending)["potassium"]] == [4.4]


def test_a_time_nobody_can_read_puts_the_result_in_doubt(lab: Laboratory) -> None:
    read = lab.one(name="K", value=4.4, unit="mmol/L", taken_at="yesterday")
    assert read.value is None
    assert "“yesterday” cannot be read" in read.doubt


def test_a_code_that_contradicts_the_name_is_asked_about(lab: Laboratory) -> None:
    assert lab.all({"name": "sodium", "loinc": "2823-3", "value": 5.9, "unit": "mmol/L"}) == {}
    assert "which is it" in lab.problems.questions[0].ask


def test_a_unit_in_capitals_is_read_and_said(lab: Laboratory) -> None:
    read = lab.one(name="potassium", value=4, unit="MEQ/L")
    assert (read.value, read.converted) == (4, "MEQ/L read as mEq/L")


def test_haemolysis_beside_the_figure_is_heard(lab: Laboratory) -> None:
    assert "haemolysed" in lab.one(name="K", value="6.3 haemolysed", unit="mmol/L").doubt
    assert lab.one(name="K", value="5.4 (not haemolysed)", unit="mmol/L").value == 5.4
