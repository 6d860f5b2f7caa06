"""What exactly is given, as ordered."""

import pytest

from app.patient.order import CoInfusion
from app.web.lines.given import given_words, is_ambiguous, pace_words
from tests.unit.web.lines.conftest import BedOf


def drug(name: str, **fields: object) -> CoInfusion:
    return CoInfusion(name, "drug", **fields)  # type: ignore[arg-type]


def test_a_bag_says_its_volume_what_is_in_it_and_its_rate(bed_of: BedOf) -> None:
    strong, plain = bed_of("03").review.case.orders
    assert given_words(strong) == "1,000 mL with 40 mmol potassium chloride, at 150 mL/h"
    assert given_words(plain) == "1,000 mL, at 83 mL/h"
    (doubtful,) = bed_of("24").review.case.orders
    assert given_words(doubtful) == "ask which fluid this is, 1,000 mL, at 100 mL/h"


@pytest.mark.parametrize(
    ("name", "key", "said"),
    [
        ("ceftriaxone 2 g over 30 min once daily, separate line", "ceftriaxone",
         "2 g over 30 min once daily"),
        ("piperacillin-tazobactam 4.5 g q8h by another line", "piperacillin_tazobactam",
         "4.5 g q8h"),
        ("noradrenaline 4 mg in 50 mL at 13 mL/h", "norepinephrine",
         "noradrenaline 4 mg in 50 mL at 13 mL/h"),
        ("something unknown", "", "something unknown"),
    ],
)  # fmt: skip
def test_a_drug_is_as_written_but_for_its_name_and_the_line(name: str, key: str, said: str) -> None:
    assert given_words(drug(name, key=key)) == said


def test_the_pace_is_as_written_or_the_volume_over_its_time() -> None:
    assert pace_words(drug("a", rate_ml_h=13.0)) == "at 13 mL/h"
    assert pace_words(drug("a", volume_ml=100.0, duration_min=30.0)) == "at 200 mL/h"
    assert pace_words(drug("a", volume_ml=100.0)) == ""


def test_a_name_that_several_fluids_bear_is_ambiguous(bed_of: BedOf) -> None:
    assert [is_ambiguous(bed_of(bed).review.case.orders[0]) for bed in ("24", "03")] == [
        True, False,
    ]  # fmt: skip
    assert not is_ambiguous(drug("something unknown"))
