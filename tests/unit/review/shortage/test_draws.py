"""What a patient's orders and drugs take from stock in a day."""

from collections.abc import Callable

import pytest

from app.patient.order import AdditiveDose
from app.review.assess import Review
from app.review.knowledge import Knowledge
from app.review.shortage.draws import Draw, concentrates_of, draws_of, ml_of, use_of
from tests.unit.review.shortage.conftest import SALINE, fluid_of, order

Reviewed = Callable[..., Review]
Draws = Callable[..., tuple[Draw, ...]]
MAINTENANCE = {"purpose": "maintenance", "rate_ml_h": 75}


@pytest.fixture
def draws(reviewed: Reviewed, knowledge: Knowledge) -> Draws:
    """draws(order, …): what one patient takes."""

    def made(*orders: dict[str, object], **more: object) -> tuple[Draw, ...]:
        case = reviewed(*orders, **more).case
        return draws_of(case, knowledge.catalogue, knowledge.vehicles)

    return made


def test_a_bag_that_goes_on_is_counted_at_its_pace(draws: Draws) -> None:
    (draw,) = draws(order(**MAINTENANCE))
    assert (draw.what, draw.fluid.id, draw.size_ml) == ("order", SALINE, 1000)
    assert draw.ml_day == pytest.approx(1800)
    assert draw.bags_day == pytest.approx(1.8)


def test_a_bolus_is_counted_once_whatever_its_rate(draws: Draws) -> None:
    (draw,) = draws(order(volume_ml=500, rate_ml_h=1000, purpose="resuscitation"))
    assert draw.ml_day == pytest.approx(500)
    assert (draw.size_ml, draw.bags_day) == (500, 1)


def test_an_order_without_rate_or_volume_draws_an_amount_that_is_not_known(draws: Draws) -> None:
    (draw,) = draws({"fluid": "0.9% sodium chloride"})
    assert draw.ml_day is None
    assert draw.bags_day is None
    use = use_of((draw,))[SALINE]
    assert use.is_at_least
    assert use.ml_day == 0


def test_potassium_put_into_the_bag_is_drawn_from_its_concentrate(draws: Draws) -> None:
    dose = [{"substance": "potassium chloride", "amount": 40, "unit": "mmol"}]
    bag, concentrate = draws(order(additives=dose, **MAINTENANCE))
    assert bag.what == "order"
    assert (concentrate.what, concentrate.fluid.id) == (
        "additive", "potassium-chloride-concentrate",
    )  # fmt: skip
    assert concentrate.ml_day == pytest.approx(20 * 1.8)
    assert concentrate.bags_day == pytest.approx(1.8)


def test_a_name_that_fits_several_fluids_draws_on_none(draws: Draws) -> None:
    assert draws(order("dextrose saline")) == ()


def test_a_drug_draws_on_the_carrier_that_is_written(draws: Draws) -> None:
    drug = {"name": "piperacillin-tazobactam 4.5 g in 100 mL 0.9% sodium chloride over 30 min q8h",
            "kind": "drug"}  # fmt: skip
    (draw,) = draws(co=[drug])
    assert (draw.what, draw.fluid.id, draw.is_usual) == ("carrier", SALINE, False)
    assert draw.ml_day == pytest.approx(300)
    assert (draw.size_ml, draw.bags_day) == (100, 3)


def test_a_drug_without_one_draws_on_the_usual_in_an_adult_and_says_so(draws: Draws) -> None:
    drug = {"name": "ceftriaxone 2 g over 30 min once daily", "kind": "drug"}
    (draw,) = draws(co=[drug])
    assert (draw.fluid.id, draw.is_usual) == (SALINE, True)
    child = {"age_years": 3, "weight_kg": 14}
    assert draws(co=[drug], patient=child) == ()


def test_blood_draws_on_no_fluid(draws: Draws) -> None:
    assert draws(co=[{"name": "red cells 1 unit over 2 h", "kind": "blood"}]) == ()


def test_a_concentrate_holds_what_is_added_in_so_many_ml_and_another_salt_never(
    knowledge: Knowledge,
) -> None:
    potassium = fluid_of(knowledge.catalogue, "potassium-chloride-concentrate")
    chloride = fluid_of(knowledge.catalogue, "calcium-chloride-10")
    gluconate = fluid_of(knowledge.catalogue, "calcium-gluconate-10")
    twenty = AdditiveDose("potassium_chloride", potassium.composition, "2 mol")
    assert ml_of(potassium, twenty.added) == pytest.approx(1000)
    assert ml_of(chloride, gluconate.composition) is None
    assert ml_of(potassium, chloride.composition) is None
    assert ml_of(potassium, type(potassium.composition)()) is None


def test_bicarbonate_may_be_drawn_from_either_strength(knowledge: Knowledge) -> None:
    strong = fluid_of(knowledge.catalogue, "sodium-bicarbonate-8.4")
    dose = AdditiveDose("sodium_bicarbonate", strong.composition, "a litre of it")
    made_from = concentrates_of(dose, knowledge.catalogue)
    assert {fluid.id for fluid, _ in made_from} == {
        "sodium-bicarbonate-4.2", "sodium-bicarbonate-8.4",
    }  # fmt: skip
    weak, full = sorted((ml for _, ml in made_from), reverse=True)
    assert weak == pytest.approx(2 * full)


def test_use_adds_up_by_fluid_and_size_the_most_used_first(draws: Draws) -> None:
    taken = draws(
        order(**MAINTENANCE),
        order("lactated Ringer's (US)", volume_ml=500, rate_ml_h=1000, purpose="resuscitation"),
        order(volume_ml=500, rate_ml_h=1000, purpose="resuscitation"),
    )
    use = use_of(taken)
    assert list(use) == [SALINE, "lactated-ringers"]
    assert use[SALINE].ml_day == pytest.approx(2300)
    assert use[SALINE].bags_day == pytest.approx({1000: 1.8, 500: 1})
    assert (use[SALINE].orders, use[SALINE].carriers) == (2, 0)
