"""What a ward would hang instead: the same sort, nothing unasked for, the nearest first."""

from app.catalogue.catalogue import Catalogue
from app.catalogue.fluid import Fluid
from app.catalogue.stock.stock import State, Stock, StockState
from app.review.ways.alike import fluids_alike, tonicity_as_hung


def fluid(catalogue: Catalogue, fluid_id: str) -> Fluid:
    found = catalogue.get(fluid_id)
    assert found is not None
    return found


def alike(catalogue: Catalogue, fluid_id: str, *, wants: bool = False) -> tuple[Fluid, ...]:
    return fluids_alike(catalogue, fluid(catalogue, fluid_id), wants, False)


def test_nothing_is_like_itself_and_nothing_never_hung_is_offered(catalogue: Catalogue) -> None:
    offered = alike(catalogue, "lactated-ringers")
    assert offered
    assert "lactated-ringers" not in {f.id for f in offered}
    assert not [f for f in offered if f.never_hung]


def test_the_nearest_composition_of_the_same_tonicity_comes_first(catalogue: Catalogue) -> None:
    first, *rest = alike(catalogue, "lactated-ringers")
    assert first.composition.lactate_mmol_l > 0
    classes = [f.tonicity_class == "isotonic" for f in (first, *rest)]
    assert classes == sorted(classes, reverse=True)


def test_glucose_comes_only_in_place_of_glucose(catalogue: Catalogue) -> None:
    assert not [f for f in alike(catalogue, "sodium-chloride-0.9") if f.composition.glucose_g_l]
    assert [f for f in alike(catalogue, "dextrose-5") if f.composition.glucose_g_l]


def test_premixed_potassium_comes_where_potassium_is_wanted(catalogue: Catalogue) -> None:
    offered = alike(catalogue, "sodium-chloride-0.9", wants=True)
    assert offered
    assert all(f.composition.potassium_mmol_l >= 10 for f in offered)


def test_a_litre_of_saline_with_potassium_hangs_as_an_isotonic_fluid(catalogue: Catalogue) -> None:
    salt = fluid(catalogue, "sodium-chloride-0.9").composition.sodium_mmol_l
    offered = alike(catalogue, "sodium-chloride-0.9", wants=True)
    with_potassium = [f for f in offered if f.composition.sodium_mmol_l == salt]
    assert with_potassium
    assert {tonicity_as_hung(f) for f in with_potassium} == {"isotonic"}
    assert tonicity_as_hung(fluid(catalogue, "sodium-chloride-3")) == "hypertonic"


def test_another_catalogue_has_its_own_list(catalogue: Catalogue) -> None:
    now = fluid(catalogue, "lactated-ringers")
    first = fluids_alike(catalogue, now, False, False)[0]
    smaller = Catalogue(tuple(f for f in catalogue if f.id != first.id))
    assert first not in fluids_alike(smaller, now, False, False)
    assert first in fluids_alike(catalogue, now, False, False)


def with_stock(catalogue: Catalogue, fluid_id: str, told: dict[str, State]) -> list[str]:
    stock = Stock({key: StockState(state) for key, state in told.items()})
    return [f.id for f in fluids_alike(catalogue, fluid(catalogue, fluid_id), False, False, stock)]


def test_what_is_out_or_withdrawn_is_left_out_and_the_others_move_up(catalogue: Catalogue) -> None:
    usual = [f.id for f in alike(catalogue, "lactated-ringers")]
    left = with_stock(catalogue, "lactated-ringers", {usual[0]: "out", usual[2]: "withdrawn"})
    assert left == [usual[1], *usual[3:]]


def test_of_equally_near_fluids_the_one_on_the_ward_goes_first_and_the_short_one_last(
    catalogue: Catalogue,
) -> None:
    told: dict[str, State] = {"dextrose-5": "short"}
    near = with_stock(catalogue, "dextrose-10", {})
    assert near.index("dextrose-5") < near.index("glucose-5")
    near = with_stock(catalogue, "dextrose-10", told)
    assert near.index("glucose-5") < near.index("dextrose-5")
    near = with_stock(catalogue, "dextrose-10", {"glucose-5": "on the ward"})
    assert near.index("glucose-5") < near.index("dextrose-5")
    near = with_stock(catalogue, "dextrose-10", {"dextrose-5": "in pharmacy"})
    assert near.index("dextrose-5") < near.index("glucose-5")


def test_a_fluid_on_the_ward_does_not_go_before_one_that_is_nearer(catalogue: Catalogue) -> None:
    usual = [f.id for f in alike(catalogue, "lactated-ringers")]
    assert with_stock(catalogue, "lactated-ringers", {usual[-1]: "on the ward"})[0] == usual[0]
    assert with_stock(catalogue, "lactated-ringers", {usual[0]: "in pharmacy"}) == usual
