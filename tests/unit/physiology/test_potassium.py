from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.fluid import Fluid
from app.chemistry.composition import Composition
from app.patient.case import Case
from app.patient.known import NotKnown
from app.patient.order import AdditiveDose, CoInfusion, Order
from app.patient.snapshot import Snapshot
from app.physiology.potassium import (
    adds_potassium,
    drug_brings_potassium,
    peak_mmol_h,
    potassium_given,
    potassium_is_added,
    potassium_mmol_l,
    sources_of_potassium,
)

NOW = datetime(2031, 3, 4, 7, 0, tzinfo=UTC)
KCL_20 = AdditiveDose("potassium chloride", Composition(potassium_mmol_l=20), "20 mmol")


@pytest.fixture
def saline(catalogue: Catalogue) -> Fluid:
    fluid = catalogue.get("sodium-chloride-0.9")
    assert fluid
    return fluid


def bag(potassium: float, **given: object) -> Order:
    mix = Composition(sodium_mmol_l=154, potassium_mmol_l=potassium)
    return replace(Order("o1", "a bag", None, mix=mix), **given)  # type: ignore[arg-type]


def case(*orders: Order, drugs: tuple[CoInfusion, ...] = ()) -> Case:
    return Case(Snapshot(now=NOW), orders, drugs)


def test_125_ml_an_hour_of_40_is_5_mmol_an_hour() -> None:
    """formulas.md 20, worked by hand."""
    (source,) = sources_of_potassium(case(bag(40, rate_ml_h=125.0)))
    assert source.per_hour == pytest.approx(5.0)
    assert source.per_day == pytest.approx(120.0)
    assert source.added


def test_100_ml_of_200_in_an_hour_is_20_mmol_once() -> None:
    """formulas.md 20, worked by hand."""
    small = bag(200, rate_ml_h=100.0, volume_ml=100.0, duration_h=1.0)
    (source,) = sources_of_potassium(case(small))
    assert source.per_hour == pytest.approx(20.0)
    assert source.per_day == pytest.approx(20.0)
    assert source.ends == NOW + timedelta(hours=1)


def test_a_small_maintenance_bag_is_hung_again() -> None:
    small = bag(20, rate_ml_h=40.0, volume_ml=250.0, purpose="maintenance")
    (source,) = sources_of_potassium(case(small))
    assert source.per_day == pytest.approx(19.2)
    assert source.ends is None


def test_bags_that_run_together_add_up_and_bags_in_turn_do_not() -> None:
    first = bag(40, rate_ml_h=125.0, duration_h=4.0, volume_ml=500.0, stated_duration=True)
    beside = bag(80, id="o2", rate_ml_h=100.0)
    after = replace(beside, starts_at=NOW + timedelta(hours=5))
    together, which = peak_mmol_h(sources_of_potassium(case(first, beside)))
    assert together == pytest.approx(13.0)
    assert {source.order_id for source in which} == {"o1", "o2"}
    in_turn, _ = peak_mmol_h(sources_of_potassium(case(first, after)))
    assert in_turn == pytest.approx(8.0)


def test_no_potassium_at_all_has_no_peak() -> None:
    assert peak_mmol_h(sources_of_potassium(case(bag(0, rate_ml_h=100.0)))) == (0.0, ())


def test_a_bag_without_a_rate_says_what_it_lacks() -> None:
    (source,) = sources_of_potassium(case(bag(40)))
    assert source.lacks == "rate_ml_h"
    assert source.per_hour is None


def test_an_order_not_understood_says_so() -> None:
    (source,) = sources_of_potassium(case(Order("o1", "the usual", None)))
    assert source.lacks == "fluid"
    assert not source.added


def test_potassium_without_a_volume_cannot_be_spread(saline: Fluid) -> None:
    order = Order("o1", "saline", saline, additives=(KCL_20,), rate_ml_h=100.0)
    assert adds_potassium(order)
    (source,) = sources_of_potassium(case(order))
    assert source.lacks == "volume_ml"
    assert source.added


def test_another_additive_without_a_volume_leaves_potassium_known(saline: Fluid) -> None:
    magnesium = AdditiveDose("magnesium sulfate", Composition(magnesium_mmol_l=8), "2 g")
    assert potassium_mmol_l(Order("o1", "saline", saline, additives=(magnesium,))) == 0


def test_an_ambiguous_name_counts_with_the_least_it_may_mean(catalogue: Catalogue) -> None:
    ids = ("ringers-injection", "compound-sodium-lactate")
    both = tuple(f for i in ids if (f := catalogue.get(i)))
    order = Order("o1", "Ringer's", None, candidates=both, additives=(KCL_20,), volume_ml=1000.0)
    assert potassium_mmol_l(order) == pytest.approx(24.0)
    with pytest.raises(NotKnown, match="volume_ml"):
        potassium_mmol_l(replace(order, volume_ml=None))


def test_a_balanced_fluid_adds_no_potassium() -> None:
    assert not adds_potassium(bag(5))
    assert adds_potassium(bag(10))
    with pytest.raises(NotKnown):
        adds_potassium(Order("o1", "the usual", None))


def test_what_a_bag_gives_is_told_by_the_hour_or_else_by_the_litre(saline: Fluid) -> None:
    assert potassium_given(bag(20, rate_ml_h=125.0)) == "2.5 mmol/h of potassium"
    assert potassium_given(bag(20)) == "20 mmol/L of potassium"
    assert (
        potassium_given(Order("o1", "saline", saline, additives=(KCL_20,)))
        == "potassium as written (20 mmol)"
    )
    assert potassium_given(Order("o1", "saline", saline)) == "potassium"


def test_a_potassium_drug_counts_by_its_stated_dose_and_time() -> None:
    marks = frozenset({"potassium"})
    dose = Composition(potassium_mmol_l=20)
    timed = CoInfusion("KCl 20 mmol", "drug", contents=marks, brings=dose, duration_min=60.0)
    (source,) = sources_of_potassium(case(drugs=(timed,)))
    assert (source.per_hour, source.per_day) == (20.0, 20.0)
    by_rate = replace(timed, duration_min=None, volume_ml=100.0, rate_ml_h=50.0)
    (source,) = sources_of_potassium(case(drugs=(by_rate,)))
    assert source.per_hour == pytest.approx(10.0)


def test_a_potassium_drug_without_a_dose_says_what_it_lacks() -> None:
    bare = CoInfusion("potassium infusion", "drug", contents=frozenset({"potassium"}))
    (source,) = sources_of_potassium(case(drugs=(bare,)))
    assert source.lacks == "co_infusions"
    assert source.per_day is None


def test_a_balanced_fluid_beside_the_orders_is_not_a_potassium_drug(catalogue: Catalogue) -> None:
    fluid = catalogue.get("lactated-ringers")
    marks = frozenset({"potassium"})
    beside = CoInfusion("LR", "drug", key="lactated-ringers", contents=marks, diluent=fluid)
    assert not drug_brings_potassium(beside, 5.5)
    assert drug_brings_potassium(CoInfusion("KCl", "drug", contents=marks), 5.5)


def test_potassium_named_without_a_fluid_is_spread_over_the_volume() -> None:
    order = Order("o1", "KCl 20 mmol in 100 mL", None, additives=(KCL_20,), volume_ml=100.0)
    assert potassium_mmol_l(order) == pytest.approx(200.0)
    by_litre = replace(order, additives=(replace(KCL_20, per_litre=True),), volume_ml=None)
    assert potassium_mmol_l(by_litre) == pytest.approx(20.0)
    for unknown in (
        replace(order, volume_ml=None),
        replace(order, additives=(replace(KCL_20, unread="which unit?"),)),
    ):
        with pytest.raises(NotKnown, match="fluid"):
            potassium_mmol_l(unknown)


def test_an_additive_that_could_not_be_read_is_potassium_when_it_is_named_so() -> None:
    unread = AdditiveDose("KCl 15% ampoule", Composition(), "20 mL KCl 15%", unread="not known")
    order = Order("o1", "saline", None, additives=(unread,))
    assert potassium_is_added(order)
    assert potassium_given(order) == "potassium as written (20 mL KCl 15%)"
