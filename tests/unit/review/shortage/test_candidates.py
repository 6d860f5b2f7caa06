"""Who could stand in for a lost fluid, the nearest first, and who never."""

from collections.abc import Callable

import pytest

from app.review.assess import Review
from app.review.shortage.candidates import Field, Means, field_of, lost_doses
from app.review.shortage.loss import Loss
from tests.unit.review.shortage.conftest import RINGERS, SALINE, counted, order

Reviewed = Callable[..., Review]
Losing = Callable[..., Loss]
MeansOf = Callable[..., Means]
FieldOf = Callable[..., Field]
POTASSIUM = {"substance": "potassium chloride", "amount": 40, "unit": "mmol"}
MAGNESIUM = {"substance": "magnesium sulfate", "amount": 8, "unit": "mmol"}
BICARBONATE = {"substance": "sodium bicarbonate", "amount": 50, "unit": "mmol"}
CONCENTRATE = "potassium-chloride-concentrate"


@pytest.fixture
def field(reviewed: Reviewed, means: MeansOf) -> FieldOf:
    """field(loss, order, using=means): who could stand in."""

    def made(loss: Loss, one: dict[str, object], using: Means | None = None) -> Field:
        case = reviewed(one).case
        return field_of(case.orders[0], case, loss, using or means())

    return made


def ids(field: Field) -> list[str]:
    return [one.fluid.id for one in field.candidates]


def test_the_nearest_come_first_and_the_lost_never(field: FieldOf, losing: Losing) -> None:
    found = field(losing(RINGERS), order("lactated Ringer's (US)"))
    away = [one.away.value for one in found.candidates]
    assert away == sorted(away)
    assert found.candidates[0].fluid.id == "compound-sodium-lactate"
    assert RINGERS not in ids(found)


def test_two_lost_together_stand_in_for_neither(field: FieldOf, losing: Losing) -> None:
    both = losing(RINGERS, "compound-sodium-lactate")
    found = field(both, order("lactated Ringer's (US)"))
    assert not {RINGERS, "compound-sodium-lactate"} & set(ids(found))
    assert found.candidates


@pytest.mark.parametrize("state", ["out", "withdrawn"])
def test_what_cannot_be_had_is_never_named(
    field: FieldOf, losing: Losing, means: MeansOf, state: str
) -> None:
    using = means(told={"compound-sodium-lactate": state})
    found = field(losing(RINGERS), order("lactated Ringer's (US)"), using)
    assert "compound-sodium-lactate" not in ids(found)
    assert "compound-sodium-lactate" not in [fluid.id for fluid, _ in found.refused]


def test_what_was_counted_as_none_is_not_named_and_a_size_not_counted_keeps_it(
    field: FieldOf, losing: Losing, means: MeansOf
) -> None:
    sizes = ((250, 0), (500, 0), (1000, 0))
    none = counted(*(("compound-sodium-lactate", size, bags) for size, bags in sizes))
    some = counted(*(("compound-sodium-lactate", size, bags) for size, bags in sizes[:2]))
    ringers = order("lactated Ringer's (US)")
    using = means(counts=none)
    assert "compound-sodium-lactate" not in ids(field(losing(RINGERS), ringers, using))
    using = means(counts=some)
    assert "compound-sodium-lactate" in ids(field(losing(RINGERS), ringers, using))


def test_two_bags_of_500_never_stand_in_for_a_litre_unless_that_is_allowed(
    field: FieldOf, losing: Losing
) -> None:
    litre = order("lactated Ringer's (US)")
    found = field(losing(f"{RINGERS}@1000"), litre)
    assert RINGERS not in ids(found)
    assert dict((fluid.id, why) for fluid, why in found.refused)[RINGERS] == (
        "only as 2 bags of 500 mL in place of one"
    )
    assert all(one.bags is None or one.bags.bags == 1 for one in found.candidates)
    allowed = field(losing(f"{RINGERS}@1000", smaller=True), litre)
    assert allowed.candidates[0].fluid.id == RINGERS
    assert allowed.candidates[0].away.value == 0
    assert allowed.candidates[0].bags.bags == 2
    assert allowed.refused == ()


def test_another_fluid_that_comes_only_in_small_bags_is_refused_as_well(
    field: FieldOf, losing: Losing
) -> None:
    found = field(losing(RINGERS), order("lactated Ringer's (US)"))
    assert "acetated-ringers" in [fluid.id for fluid, _ in found.refused]
    small = field(losing(RINGERS), order("lactated Ringer's (US)", volume_ml=500))
    assert "acetated-ringers" in ids(small)


def test_a_larger_bag_of_the_same_fluid_may_stand_in(field: FieldOf, losing: Losing) -> None:
    found = field(losing(f"{RINGERS}@500"), order("lactated Ringer's (US)", volume_ml=500))
    first = found.candidates[0]
    assert (first.fluid.id, first.bags.size_ml, first.bags.bags) == (RINGERS, 1000, 1)


def test_a_premixed_bag_stands_in_for_one_with_potassium_put_in(
    field: FieldOf, losing: Losing
) -> None:
    found = field(losing(SALINE), order(additives=[POTASSIUM]))
    first = found.candidates[0]
    assert first.fluid.id == "potassium-chloride-40-sodium-chloride-0.9"
    assert first.away.value == pytest.approx(0, abs=0.1)
    assert [dose.as_written for dose in first.left_out] == ["40 mmol potassium chloride"]
    assert first.order.additives == ()
    assert first.order.mix.potassium_mmol_l == pytest.approx(40)


def test_another_fluid_keeps_what_is_put_in(field: FieldOf, losing: Losing) -> None:
    found = field(losing(SALINE), order(additives=[POTASSIUM]))
    ringers = next(one for one in found.candidates if one.fluid.id == RINGERS)
    assert ringers.left_out == ()
    assert ringers.order.mix.potassium_mmol_l == pytest.approx(44)


def test_lost_concentrate_leaves_premixed_bags_and_never_just_leaves_it_out(
    field: FieldOf, losing: Losing
) -> None:
    found = field(losing(CONCENTRATE), order(additives=[POTASSIUM]))
    assert ids(found)[0] == "potassium-chloride-40-sodium-chloride-0.9"
    assert all(one.order.mix.potassium_mmol_l >= 10 for one in found.candidates)


def test_magnesium_that_is_lost_is_not_answered_with_a_premixed_bag(
    field: FieldOf, losing: Losing
) -> None:
    found = field(losing("magnesium-sulfate-50"), order(additives=[POTASSIUM, MAGNESIUM]))
    assert found.candidates == ()
    assert found.why_none == ""


def test_another_strength_of_the_same_salt_stands_in(field: FieldOf, losing: Losing) -> None:
    one = order("5% glucose (UK and Europe)", additives=[BICARBONATE])
    found = field(losing("sodium-bicarbonate-8.4"), one)
    (first,) = found.candidates
    assert first.concentrate.id == "sodium-bicarbonate-4.2"
    assert first.away.value == 0
    assert first.fluid.id == "glucose-5"
    both = losing("sodium-bicarbonate-4.2", "sodium-bicarbonate-8.4")
    assert field(both, one).candidates == ()


def test_only_what_is_told_or_counted_to_be_here_when_that_is_asked(
    field: FieldOf, losing: Losing, means: MeansOf
) -> None:
    using = means(
        told={"ringers-acetate": "on the ward"},
        counts=counted(("acetate-malate-balanced", 1000, 4)),
    )
    loss = losing(RINGERS, told_only=True)
    found = field(loss, order("lactated Ringer's (US)"), using)
    assert set(ids(found)) == {"ringers-acetate", "acetate-malate-balanced"}


def test_of_equals_what_is_on_the_ward_goes_first(
    field: FieldOf, losing: Losing, means: MeansOf
) -> None:
    found = field(losing(SALINE), order(), means(told={RINGERS: "on the ward"}))
    away = [one.away.value for one in found.candidates]
    assert away == sorted(away), "nearness goes before the shelf"


def test_a_name_that_fits_several_and_a_bag_that_is_not_understood_are_not_guessed(
    field: FieldOf, losing: Losing
) -> None:
    several = field(losing("dextrose-5-sodium-chloride-0.45"), order("dextrose saline"))
    assert several.candidates == ()
    assert "must be settled" in several.why_none
    unread = [{"substance": "unobtainium", "amount": 3, "unit": "mmol"}]
    unknown = field(losing(SALINE), order(additives=unread))
    assert unknown.candidates == ()
    assert "not understood" in unknown.why_none


def test_what_is_put_in_is_lost_with_its_concentrate_alone(
    reviewed: Reviewed, losing: Losing, means: MeansOf
) -> None:
    one = reviewed(order(additives=[POTASSIUM, MAGNESIUM])).case.orders[0]
    catalogue = means().catalogue
    lost = lost_doses(one, losing(CONCENTRATE), catalogue)
    assert [dose.substance for dose in lost] == ["potassium_chloride"]
    assert lost_doses(one, losing(SALINE), catalogue) == ()


def test_no_glucose_is_given_where_none_was_asked_for(field: FieldOf, losing: Losing) -> None:
    found = field(losing(SALINE), order())
    assert found.candidates
    assert all(not one.fluid.composition.glucose_g_l for one in found.candidates)


def test_a_bolus_of_an_isotonic_fluid_is_answered_with_isotonic_ones(
    field: FieldOf, losing: Losing
) -> None:
    bolus = order(volume_ml=500, rate_ml_h=1000, purpose="resuscitation")
    found = field(losing(SALINE), bolus)
    assert found.candidates
    assert {one.fluid.tonicity_class for one in found.candidates} == {"isotonic"}


def test_a_bag_that_carries_a_drug_turns_to_no_other_fluid(field: FieldOf, losing: Losing) -> None:
    drug = order(
        volume_ml=500, additives=[{"substance": "amiodarone", "amount": 900, "unit": "mg"}]
    )
    found = field(losing(SALINE), drug)
    assert found.candidates == ()
    assert "whose label decides" in found.why_none
    larger = field(losing(f"{SALINE}@500"), drug)
    assert ids(larger) == [SALINE]
    assert larger.why_none == ""
