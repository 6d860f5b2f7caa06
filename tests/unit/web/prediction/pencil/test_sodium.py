"""Sodium by hand beside the curve, each figure worked with a pencil here."""

from collections.abc import Callable

import pytest

from app.physiology.course.body import Subject, subject_of
from app.physiology.course.loads import Loss
from app.web.prediction.pencil.rows import HandRow
from app.web.prediction.pencil.sodium import sodium_rows
from app.web.prediction.pencil.tried import Tried

Try = Callable[..., Tried]


def person(**results: float) -> Subject:
    return subject_of(weight_kg=70, age_years=40, sex="male", height_cm=None, results=results)


def rows(*tried: Tried) -> dict[str, HandRow]:
    return {row.formula_id: row for row in sodium_rows(tried)}


def test_the_volume_is_exact_and_the_litre_is_told_beside_it(tried: Try) -> None:
    low = person(sodium=112, chloride=80)
    found = rows(tried("sodium-chloride-3", volume_ml=150, minutes=20, subject=low))
    # 42 L of water: 0.15 × (513 − 112) / 42.15 and 401 / 43.
    assert found["sodium-change"].cells[0].by_hand == ("+1.4 mmol/L", "a litre: +9.3 mmol/L")


def test_urine_typed_is_counted_while_the_bag_runs(tried: Try) -> None:
    found = rows(tried("dextrose-5", losses=(Loss("urine", 250),)))["sodium-balance"]
    # A litre of urine with 140 mmol for a litre of water: (163.8 × 42 − 1.03 × 140) / 42 − 23.8.
    assert found.cells[0].by_hand == ("−3.4 mmol/L",)
    assert found.why.startswith("Lost as told by 4 h: 1,000 mL with 140 mmol")


def test_the_two_forms_are_compared_on_the_same_balance(tried: Try) -> None:
    why = rows(tried("dextrose-5", losses=(Loss("urine", 250),)))["sodium-balance"].why
    # As much water out as in, and 140 mmol gone from 42 L.
    assert "the form above would say −3.3 mmol/L" in why


def test_without_urine_it_is_said_that_the_curve_passes_some(tried: Try) -> None:
    found = rows(tried("sodium-chloride-0.9"))
    assert found["sodium-balance"].why.startswith("No loss was told")
    assert "has been lost by 12 h on the curve" in found["sodium-change"].why


def test_sugar_that_is_not_used_yet_is_named_where_it_lowers_sodium(tried: Try) -> None:
    fast = tried("dextrose-5", minutes=60)
    assert "draws water out of cells" in rows(fast)["sodium-change"].why
    assert "draws water" not in rows(tried("sodium-chloride-0.9"))["sodium-change"].why


def test_a_high_glucose_brings_both_factors(tried: Try) -> None:
    high = person(sodium=128, glucose=40, chloride=94)
    cell = rows(tried("sodium-chloride-0.9", subject=high))["sodium-for-glucose"].cells[0]
    assert cell.by_hand == ("137.9 by 1.6 a step", "142.9 by 2.4 a step")
    assert cell.curve[0][1].startswith("with glucose ")


@pytest.mark.parametrize(
    ("sodium", "formula_id", "by_hand"),
    [(115, "sodium-deficit", "630 mmol"), (160, "water-deficit", "6 L")],
)
def test_a_deficit_stands_beside_what_is_kept(
    tried: Try, sodium: float, formula_id: str, by_hand: str
) -> None:
    one = tried("sodium-chloride-0.9", subject=person(sodium=sodium, chloride=sodium - 36))
    row = rows(one)[formula_id]
    assert row.name.endswith(", which is no dose for a day")
    assert row.cells[0].by_hand == (by_hand,)
    assert all(lines[0].endswith(" kept") for lines in row.cells[0].curve)


# By hand, of 42 L: 6 × 42 mmol; 42 × (160 ÷ 150 − 1) L.
@pytest.mark.parametrize(
    ("sodium", "aim", "name", "by_hand"),
    [
        (115, (121, "+6 in 24 h"), "Sodium deficit to 121 (+6 in 24 h)", "252 mmol, most in 24 h"),
        (160, (150, "−10 in 24 h"), "Water deficit to 150 (−10 in 24 h)", "2.8 L, most in 24 h"),
        (124, (122, "+8 in 24 h"), "Sodium deficit to 122 (+8 in 24 h)", "none: the limit"),
    ],
)
def test_a_deficit_goes_no_further_than_the_limit_of_the_day(
    tried: Try, sodium: float, aim: tuple[float, str], name: str, by_hand: str
) -> None:
    one = tried("sodium-chloride-0.9", subject=person(sodium=sodium, chloride=sodium - 36))
    (row,) = (row for row in sodium_rows([one], aim) if row.formula_id.endswith("-deficit"))
    assert row.name == name
    assert row.cells[0].by_hand[0].startswith(by_hand)


def test_more_lost_than_given_is_said_so(tried: Try) -> None:
    low = person(sodium=118, chloride=84)
    one = tried("sodium-chloride-0.9", subject=low, losses=(Loss("urine", 300, 120, 40),))
    cell = rows(one)["sodium-deficit"].cells[0]
    # 300 mL/h for 12 h with 160 mmol/L, less the bag's 154.
    assert cell.curve[-1] == ("422 mmol more lost than given",)
