"""A distance ranks; its weights are ours and said."""

import pytest

from app.catalogue.catalogue import Catalogue
from app.chemistry.composition import AMOUNT_FIELDS, Composition
from app.review.shortage.distance import WEIGHTS, WHOSE, distance
from tests.unit.review.shortage.conftest import fluid_of

SALINE = Composition(sodium_mmol_l=154, chloride_mmol_l=154)
RINGERS = Composition(
    sodium_mmol_l=130, potassium_mmol_l=4, calcium_mmol_l=1.35, chloride_mmol_l=109,
    lactate_mmol_l=28,
)  # fmt: skip


def test_a_distance_is_the_sum_of_weighted_differences() -> None:
    away = distance(SALINE, RINGERS)
    by_name = {term.weight.key: term.value for term in away.terms}
    expected = {"sodium": 24, "chloride": 45, "potassium": 32, "calcium": 27, "lactate": 14}
    assert by_name == pytest.approx(expected)
    assert away.value == pytest.approx(142)


def test_what_counts_most_is_named_first() -> None:
    terms = distance(SALINE, RINGERS).terms
    assert [term.weight.key for term in terms] == [
        "chloride", "potassium", "calcium", "sodium", "lactate",
    ]  # fmt: skip
    assert [term.value for term in terms] == sorted((t.value for t in terms), reverse=True)


def test_glucose_is_compared_as_anhydrous() -> None:
    anhydrous = Composition(glucose_g_l=45.46)
    monohydrate = Composition(glucose_g_l=50, glucose_monohydrate=True)
    assert distance(anhydrous, monohydrate).value == pytest.approx(0, abs=0.1)
    assert distance(anhydrous, Composition(glucose_g_l=50)).value == pytest.approx(9.08)


def test_a_chloride_that_no_label_gives_is_left_out_and_named() -> None:
    unlabelled = Composition(sodium_mmol_l=154, chloride_mmol_l=None)
    away = distance(SALINE, unlabelled)
    assert away.value == 0
    assert away.left_out == ("chloride",)


def test_a_colloid_is_far_from_every_crystalloid(catalogue: Catalogue) -> None:
    albumin, saline = fluid_of(catalogue, "albumin-20"), fluid_of(catalogue, "sodium-chloride-0.9")
    assert distance(albumin.composition, saline.composition).value > 900


@pytest.mark.parametrize("name", sorted(set(AMOUNT_FIELDS) - {"other_solute_mmol_l",
                                                              "colloid_charge_meq_l"}))  # fmt: skip
def test_everything_a_label_names_counts(name: str) -> None:
    assert distance(Composition(), Composition(**{name: 5.0})).value > 0  # type: ignore[arg-type]


def test_every_weight_is_above_nothing_and_said_to_be_ours() -> None:
    assert all(weight.weight > 0 for weight in WEIGHTS)
    assert "ours, no source" in WHOSE


def test_the_nearest_to_lactated_ringers_is_what_a_ward_would_name(catalogue: Catalogue) -> None:
    here = fluid_of(catalogue, "lactated-ringers").composition
    near = sorted(catalogue, key=lambda fluid: distance(here, fluid.composition).value)
    assert near[0].id == "lactated-ringers"
    assert {fluid.id for fluid in near[1:4]} >= {"compound-sodium-lactate", "acetated-ringers"}
