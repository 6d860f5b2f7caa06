"""What a ward would hang instead: the same sort, nothing unasked for, the nearest first."""

from app.catalogue.catalogue import Catalogue
from app.catalogue.fluid import Fluid
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
