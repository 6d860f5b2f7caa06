"""What runs, as the facts about pairs name it."""

from datetime import UTC, datetime

import pytest

from app.catalogue.catalogue import Catalogue
from app.cautions.shared.substances import (
    holds,
    infusions_of,
    is_dose,
    name_of,
    order_ids_of,
    pairs_of,
    runs_on,
    substance_of,
    way_between,
)
from app.chemistry.composition import Composition
from app.patient.access import Lumen
from app.patient.case import Case
from app.patient.order import AdditiveDose, CoInfusion, Order
from app.patient.snapshot import Snapshot

NOW = datetime(2031, 3, 4, 7, tzinfo=UTC)


def order(catalogue: Catalogue, fluid_id: str, order_id: str = "o1", **fields: object) -> Order:
    fluid = catalogue.get(fluid_id)
    assert fluid is not None
    return Order(order_id, fluid.name, fluid, mix=fluid.composition, **fields)  # type: ignore[arg-type]


def test_a_fluid_is_named_by_itself_and_by_what_it_holds(catalogue: Catalogue) -> None:
    ringers = substance_of(order(catalogue, "lactated-ringers"))
    assert "lactated-ringers" in ringers.names
    assert {"calcium", "potassium"} <= ringers.marks
    assert ringers.kind == "any fluid"


def test_glucose_and_dextrose_of_one_strength_are_one_thing(catalogue: Catalogue) -> None:
    assert "dextrose-5" in substance_of(order(catalogue, "glucose-5")).names


def test_a_concentrate_is_named_as_the_drug_it_is(catalogue: Catalogue) -> None:
    assert holds(order(catalogue, "sodium-bicarbonate-8.4"), "sodium_bicarbonate")
    assert holds(order(catalogue, "calcium-gluconate-10"), "calcium_gluconate")


def test_a_drug_carried_in_a_bag_is_named_with_the_bag(catalogue: Catalogue) -> None:
    dose = AdditiveDose("norepinephrine", Composition(), "4 mg")
    bag = order(catalogue, "sodium-chloride-0.9", additives=(dose,))
    assert holds(bag, "norepinephrine")
    carried = CoInfusion("4 mg", "drug", key="norepinephrine", carried_by="o1")
    case = Case(Snapshot(NOW), (bag,), (carried,))
    assert infusions_of(case) == (bag,)


def test_two_orders_meet_on_the_lumen_named_for_both(catalogue: Catalogue) -> None:
    one = order(catalogue, "sodium-chloride-0.9", lumen="c1")
    other = order(catalogue, "lactated-ringers", "o2", lumen="c1")
    apart = order(catalogue, "lactated-ringers", "o3", lumen="c2")
    nowhere = order(catalogue, "lactated-ringers", "o4")
    case = Case(Snapshot(NOW, access=(Lumen("c1", "central"),)), (one, other, apart, nowhere))
    assert way_between(case, one, other) == "together"
    assert way_between(case, one, apart) == "apart"
    assert way_between(case, one, nowhere) == "one lumen"
    assert len(pairs_of(case)) == 6
    assert order_ids_of(one, other) == ("o1", "o2")


@pytest.mark.parametrize(
    ("name", "key", "runs"),
    [
        ("norepinephrine", "norepinephrine", True),
        ("epinephrine 1 mg", "epinephrine", False),
        ("epinephrine 0.05 mcg/kg/min", "epinephrine", True),
        ("norepinephrine bolus", "norepinephrine", False),
        ("insulin 3 units/h", "insulin", True),
        ("ephedrine 6 mg", "ephedrine", False),
    ],
)
def test_a_push_is_told_from_an_infusion(name: str, key: str, runs: bool) -> None:
    drug = CoInfusion(name, "drug", key=key)
    assert runs_on(drug) is runs
    assert name_of(drug) == key


def test_a_bag_within_the_hour_is_a_dose_and_a_maintenance_bag_is_not(catalogue: Catalogue) -> None:
    assert is_dose(order(catalogue, "sodium-chloride-0.9", volume_ml=100.0, duration_h=0.5))
    assert not is_dose(order(catalogue, "sodium-chloride-0.9", volume_ml=1000.0, rate_ml_h=80.0))
    assert is_dose(
        CoInfusion("meropenem 1 g over 4 h", "drug", key="meropenem", duration_min=240.0)
    )
    assert not is_dose(CoInfusion("red cells", "blood", key="red_cells"))
