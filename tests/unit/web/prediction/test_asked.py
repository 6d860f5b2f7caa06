"""A what-if's address: what is wrong is named, a rate is a time, salt is in the bag."""

import pytest
from starlette.datastructures import QueryParams

from app.catalogue.catalogue import Catalogue
from app.chemistry.salts import salt_amounts
from app.patient.order import AdditiveDose, Order
from app.web.prediction.asked import (
    Asked,
    look_h,
    order_address,
    read_asked,
    tried_address,
)

SALINE = "sodium-chloride-0.9"


def asked(catalogue: Catalogue, query: str) -> Asked:
    return read_asked(QueryParams(query), catalogue)


def test_a_rate_gives_the_time(catalogue: Catalogue) -> None:
    found = asked(catalogue, f"fluid={SALINE}&volume=1000&rate=125")
    assert found.minutes == 480
    assert found.rate_ml_h == pytest.approx(125)


def test_a_rate_and_a_time_give_the_volume(catalogue: Catalogue) -> None:
    assert asked(catalogue, "rate=125&minutes=480").volume_ml == 1000


def test_minutes_against_the_rate_are_refused(catalogue: Catalogue) -> None:
    (fault,) = asked(catalogue, "volume=1000&rate=125&minutes=60").faults
    assert fault.field == "Over"
    assert "480" in fault.accepted
    assert asked(catalogue, "volume=1000&rate=60&minutes=1000").faults == ()


@pytest.mark.parametrize(
    ("query", "field"),
    [
        ("volume=1o00", "Volume"),
        ("potassium=-3", "Potassium chloride in A"),
        ("result_sodium=12", "Sodium"),
        ("horizon=5", "Look ahead"),
        ("sex=unknown", "Sex"),
        ("fluid=nonsuch", "Fluid A"),
        ("fluid_b=potassium-chloride-concentrate", "Fluid B"),
        ("gastric=5000", "Gastric"),
        ("urine_sodium=999", "Urine sodium"),
        ("onset=never", "Low or high sodium for"),
        ("breathing=x", "Breathing"),
        ("others=x", "What else runs"),
        ("height=2", "Height"),
        ("fluid_then=nonsuch&volume_then=1&minutes_then=1", "Then"),
    ],
)
def test_what_is_not_accepted_is_named(catalogue: Catalogue, query: str, field: str) -> None:
    (fault,) = asked(catalogue, query).faults
    assert fault.field == field
    assert fault.accepted


def test_potassium_goes_into_the_whole_volume(catalogue: Catalogue) -> None:
    (bag,) = asked(catalogue, f"fluid={SALINE}&potassium=20&volume=500&minutes=60").bags
    mix = bag.mix(500)
    assert mix.potassium_mmol_l == pytest.approx(40)
    assert mix.chloride_mmol_l == pytest.approx(194)
    assert bag.called == "0.9% sodium chloride + potassium chloride 20 mmol"
    load = bag.load(500, 60)
    assert (load.volume_l, load.starts_min, load.duration_min) == (0.5, 0, 60)


def test_what_follows_begins_when_the_bag_is_in(catalogue: Catalogue) -> None:
    query = f"fluid_then={SALINE}&volume_then=500&minutes_then=240&potassium_then=10"
    then = asked(catalogue, query).then
    assert then is not None
    load = then.load(120)
    assert (load.volume_l, load.starts_min, load.duration_min) == (0.5, 120, 240)
    assert load.composition.potassium_mmol_l == pytest.approx(20)


@pytest.mark.parametrize("part", [f"fluid_then={SALINE}", "volume_then=500", "minutes_then=60"])
def test_a_part_of_what_follows_is_never_overlooked(catalogue: Catalogue, part: str) -> None:
    found = asked(catalogue, part)
    assert found.then is None
    assert [fault.field for fault in found.faults] == ["Then"]


def test_ticks_stand_for_conditions_and_choices_for_what_is_not_usual(
    catalogue: Catalogue,
) -> None:
    found = asked(catalogue, "shock=1&alcohol=1&onset=acute&others=left-out")
    assert found.conditions == {"shock", "alcohol_dependence"}
    assert found.is_chosen("onset", "acute")
    assert found.is_chosen("others", "left-out")
    assert not found.is_chosen("breathing", "responds")


def test_results_typed_are_known_by_the_project_s_names(catalogue: Catalogue) -> None:
    found = asked(catalogue, "result_sodium=118&result_ph=7,31")
    assert found.results == {"sodium": 118, "ph": 7.31}


def an_order(catalogue: Catalogue, *doses: AdditiveDose) -> Order:
    fluid = catalogue.get(SALINE)
    return Order("o1", "saline", fluid, additives=doses, volume_ml=1000, rate_ml_h=60)


def test_an_order_is_tried_with_its_potassium(catalogue: Catalogue) -> None:
    salt = AdditiveDose("potassium_chloride", salt_amounts("potassium_chloride", 20), "20 mmol")
    address = order_address("bed-04", an_order(catalogue, salt))
    query = f"patient=bed-04&fluid={SALINE}&volume=1000&rate=60&potassium=20&instead=o1"
    assert address == f"/predict?{query}"


def test_an_order_with_anything_else_in_its_bag_is_not_tried_as_something_less(
    catalogue: Catalogue,
) -> None:
    salt = AdditiveDose("magnesium_sulfate", salt_amounts("magnesium_sulfate", 8), "8 mmol")
    assert order_address("bed-04", an_order(catalogue, salt)) == ""


def test_an_order_without_a_rate_is_not_tried(catalogue: Catalogue) -> None:
    assert order_address("bed-04", Order("o1", "saline", catalogue.get(SALINE))) == ""


def test_a_comparison_leads_to_its_first_two_fluids(catalogue: Catalogue) -> None:
    fluids = [f for f in catalogue if not f.never_hung][:3]
    address = tried_address("bed-04", fluids, 500, 100)
    assert f"fluid={fluids[0].id}&fluid_b={fluids[1].id}&volume=500&rate=100" in address
    assert fluids[2].id not in address
    assert tried_address("bed-04", [], 500, 100) == ""


@pytest.mark.parametrize(
    ("runs_h", "looks_h"), [(0.25, 4), (2, 4), (2.1, 8), (4, 8), (6, 12), (10, 24), (30, 24)]
)
def test_a_short_bag_is_looked_at_closely_and_a_long_one_for_a_day(
    runs_h: float, looks_h: int
) -> None:
    assert look_h(runs_h) == looks_h


def test_how_far_to_look_is_by_the_bag_unless_it_is_chosen(catalogue: Catalogue) -> None:
    bag = f"fluid={SALINE}&volume=250&minutes=15"
    assert asked(catalogue, bag).horizon_h == 4
    assert asked(catalogue, f"{bag}&horizon=24").horizon_h == 24
    assert asked(catalogue, f"fluid={SALINE}").horizon_h == 24


def test_insulin_runs_for_as_long_as_is_looked(catalogue: Catalogue) -> None:
    load = asked(catalogue, "insulin=6&horizon=8").insulin_load()
    assert load is not None
    assert (load.insulin_units, load.duration_min) == (48, 480)
    assert asked(catalogue, "insulin=0").insulin_load() is None


def test_conditions_found_on_another_page_come_with_the_address(catalogue: Catalogue) -> None:
    found = asked(catalogue, "said=hyponatraemia,seizure&shock=1")
    assert found.conditions == {"hyponatraemia", "seizure", "shock"}
