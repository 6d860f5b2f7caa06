"""What a litre holds, as written."""

import pytest

from app.chemistry.composition import Composition
from app.intake.request import Problems, Reader
from app.physiology.course.loads import chloride_of
from app.review.predict.compositions import as_fluid, doubts_of, read_composition


def read(**amounts: object) -> Composition:
    problems = Problems()
    composition = read_composition(Reader(amounts, "composition", problems))
    problems.stop_if_any()
    return composition


def test_what_is_not_named_is_absent() -> None:
    composition = read(sodium_mmol_l=513, chloride_mmol_l="513")
    assert composition == Composition(sodium_mmol_l=513, chloride_mmol_l=513)
    assert as_fluid(composition).id == ""


@pytest.mark.parametrize(
    ("amounts", "chloride"),
    [
        ({"sodium_mmol_l": 140, "chloride_mmol_l": None}, 140),
        ({"sodium_mmol_l": 145, "albumin_g_l": 50}, 131),
        ({"sodium_mmol_l": 100, "albumin_g_l": 200}, 44),
        ({"sodium_mmol_l": 154, "starch_g_l": 60}, 154),
        ({"sodium_mmol_l": 154, "gelatin_g_l": 40}, 120),
        ({"sodium_mmol_l": 154}, 154),
        ({"sodium_mmol_l": 145, "potassium_mmol_l": 4, "calcium_mmol_l": 2.5, "magnesium_mmol_l": 1,
          "acetate_mmol_l": 24, "malate_mmol_l": 5}, 127),
    ],
)  # fmt: skip
def test_a_chloride_not_given_balances_the_charges(
    amounts: dict[str, float | None], chloride: float
) -> None:
    composition = read(**amounts)
    assert composition.chloride_mmol_l is None
    assert chloride_of(composition) == pytest.approx(chloride, abs=0.3)
    assert not list(doubts_of(composition))


@pytest.mark.parametrize(
    "amounts",
    [{"glucose_g_l": 50}, {"sodium_mmol_l": 1000, "bicarbonate_mmol_l": 1000},
     {"sodium_mmol_l": 500, "lactate_mmol_l": 500}, {"sodium_mmol_l": 154, "chloride_mmol_l": 0}],
)  # fmt: skip
def test_a_chloride_that_nothing_asks_for_is_absent(amounts: dict[str, float]) -> None:
    assert read(**amounts).chloride_mmol_l == 0


@pytest.mark.parametrize(("chloride", "charge"), [(120, -34), (154, 0), (None, -34)])
def test_gelatin_has_the_charge_that_its_salts_leave_open(
    chloride: float | None, charge: float
) -> None:
    composition = read(sodium_mmol_l=154, chloride_mmol_l=chloride, gelatin_g_l=40)
    assert composition.colloid_charge_meq_l == pytest.approx(charge)
    assert not list(doubts_of(composition))


def test_what_a_label_says_besides_is_noted_and_not_used() -> None:
    problems = Problems()
    amounts = {"sodium_mmol_l": 154, "osmolarity_mosm_l": 308, "ph": 5.5}
    read_composition(Reader(amounts, "composition", problems))
    assert [question.field for question in problems.questions] == [
        "composition.osmolarity_mosm_l", "composition.ph",
    ]  # fmt: skip
    assert not problems.errors


def test_charges_that_do_not_balance_are_said() -> None:
    (said,) = doubts_of(Composition(sodium_mmol_l=154, chloride_mmol_l=100))
    assert "positive charges are 54 mEq/L more" in said
    (said,) = doubts_of(Composition(sodium_mmol_l=100, chloride_mmol_l=154))
    assert "negative" in said
    (said,) = doubts_of(read(sodium_mmol_l=100, lactate_mmol_l=154, gelatin_g_l=40))
    assert "negative" in said


@pytest.mark.parametrize(
    "sound",
    [
        Composition(sodium_mmol_l=154, chloride_mmol_l=154),
        Composition(sodium_mmol_l=140, chloride_mmol_l=128, albumin_g_l=40),
        Composition(sodium_mmol_l=145, chloride_mmol_l=None, albumin_g_l=200),
        Composition(glucose_g_l=50),
    ],
)
def test_a_colloid_may_fill_the_charges(sound: Composition) -> None:
    assert not list(doubts_of(sound))
