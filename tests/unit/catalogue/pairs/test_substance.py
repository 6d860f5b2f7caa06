"""How facts name what runs."""

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.fluid import Fluid
from app.catalogue.pairs.substance import (
    PLAIN_FLUID,
    Substance,
    bag_of,
    drug_substance,
    fluid_substance,
    made_up_in,
)


def fluid(catalogue: Catalogue, fluid_id: str) -> Fluid:
    found = catalogue.get(fluid_id)
    assert found is not None
    return found


def test_a_fluid_is_named_by_its_id_its_salt_and_what_it_holds(catalogue: Catalogue) -> None:
    ringers = fluid_substance(fluid(catalogue, "compound-sodium-lactate"))
    assert "compound-sodium-lactate" in ringers.names
    assert {"calcium", "potassium"} <= ringers.marks
    strong = fluid_substance(fluid(catalogue, "sodium-bicarbonate-8.4"))
    assert "sodium_bicarbonate" in strong.names


def test_glucose_and_dextrose_are_one_thing_in_a_line(catalogue: Catalogue) -> None:
    assert "dextrose-5" in fluid_substance(fluid(catalogue, "glucose-5")).names


@pytest.mark.parametrize(
    ("fluid_id", "plain"),
    [
        ("sodium-chloride-0.9", True),
        ("lactated-ringers", True),
        ("dextrose-5", True),
        ("multiple-electrolytes-type-1-ph-7.4", True),
        ("multiple-electrolytes-type-1-phosphate", False),
        ("sodium-bicarbonate-1.4", False),
        ("albumin-5", False),
        ("gelatin-4-balanced", False),
        ("mannitol-20", False),
        ("magnesium-sulfate-50", False),
        ("sodium-chloride-23.4", False),
        ("sterile-water", False),
    ],
)
def test_a_plain_fluid_holds_nothing_that_falls_out_and_may_be_hung(
    catalogue: Catalogue, fluid_id: str, *, plain: bool
) -> None:
    assert (PLAIN_FLUID in fluid_substance(fluid(catalogue, fluid_id)).marks) is plain


def test_a_premixed_bag_is_its_base_and_its_potassium(catalogue: Catalogue) -> None:
    bag = fluid_substance(fluid(catalogue, "potassium-chloride-20-dextrose-5-lactated-ringers"))
    base, salt = bag.each()
    assert "dextrose-5-lactated-ringers" in base.names
    assert {"calcium", "glucose", PLAIN_FLUID} <= base.marks
    assert salt.key == "potassium_chloride"
    assert salt.kind == "any drug"


def test_a_bag_is_asked_about_part_by_part(catalogue: Catalogue) -> None:
    saline = fluid_substance(fluid(catalogue, "sodium-chloride-0.9"))
    salt = drug_substance("potassium_chloride", {"potassium"})
    bag = bag_of(saline, [salt])
    assert bag.each() == (saline, salt)
    assert bag.names >= saline.names | {"potassium_chloride"}
    assert "potassium" in bag.marks
    assert bag_of(saline, []) is saline


def test_a_drug_keeps_its_own_name_beside_its_carrier(catalogue: Catalogue) -> None:
    saline = fluid_substance(fluid(catalogue, "sodium-chloride-0.9"))
    drug = made_up_in(drug_substance("meropenem", {"antibiotic"}), saline)
    own, carrier = drug.each()
    assert (own.key, own.is_carrier, carrier.is_carrier) == ("meropenem", False, True)
    assert drug.names == {"meropenem"}


def test_two_bags_of_one_salt_are_one_thing(catalogue: Catalogue) -> None:
    weak = fluid_substance(fluid(catalogue, "sodium-bicarbonate-1.4"))
    assert weak.is_same(drug_substance("sodium_bicarbonate", {"bicarbonate"}))
    assert not weak.is_same(drug_substance("meropenem"))


def test_without_a_key_nothing_names_it() -> None:
    unknown = drug_substance("")
    assert unknown.names == frozenset()
    assert not unknown.is_same(unknown)
    assert unknown.ranks() == {"any drug": 0}


def test_its_own_name_goes_before_its_marks_and_its_kind() -> None:
    ranks = Substance(frozenset({"norepinephrine"}), frozenset({"vasoactive"})).ranks()
    assert ranks == {"norepinephrine": 2, "vasoactive": 1, "any drug": 0}
