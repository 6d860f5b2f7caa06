"""All fluids the unit knows."""

from dataclasses import replace

from app.catalogue.catalogue import Catalogue


def test_a_fluid_is_found_by_its_id_and_by_its_facts_table_id(catalogue: Catalogue) -> None:
    assert catalogue.get("lactated-ringers") is catalogue.get("lr-us") is not None
    assert catalogue.get("moonshine") is None


def test_ids_names_and_facts_table_ids_are_each_used_once(catalogue: Catalogue) -> None:
    for field in ("id", "name", "reference_id"):
        values = [getattr(fluid, field) for fluid in catalogue]
        assert len(values) == len(set(values)), field


def test_the_version_changes_when_any_figure_does(catalogue: Catalogue) -> None:
    first, *rest = catalogue
    changed = replace(first, osmolarity_labelled_mosm_l=1.0)
    assert Catalogue((first, *rest)).version == catalogue.version
    assert Catalogue((changed, *rest)).version != catalogue.version


def test_there_are_at_least_forty_fluids_and_each_is_counted(catalogue: Catalogue) -> None:
    assert len(catalogue) == len(list(catalogue)) >= 40


def test_concentrates_that_kill_undiluted_are_never_hung(catalogue: Catalogue) -> None:
    for fluid_id in ("potassium-chloride-concentrate", "sodium-chloride-23.4", "sterile-water"):
        fluid = catalogue.get(fluid_id)
        assert fluid is not None
        assert fluid.never_hung
