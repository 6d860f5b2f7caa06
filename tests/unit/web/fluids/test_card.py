"""A fluid's card: amounts per litre and per bag, figures with their formula, label against sum."""

from dataclasses import replace

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.fluid import Fluid, PhRange
from app.web.fluids import card


@pytest.fixture
def ringers(catalogue: Catalogue) -> Fluid:
    found = catalogue.get("lactated-ringers")
    assert found is not None
    return found


@pytest.fixture
def saline(catalogue: Catalogue) -> Fluid:
    found = catalogue.get("sodium-chloride-0.9")
    assert found is not None
    return found


def test_154_in_a_litre_reads_38_5_in_250_ml(saline: Fluid) -> None:
    sodium = card.made_of(saline)[0]
    at = saline.pack_sizes_ml.index(250)
    assert (str(sodium.per_litre), str(sodium.in_bags[at])) == ("154", "38.5")


def test_calcium_shows_mmol_and_twice_as_many_meq(ringers: Fluid) -> None:
    calcium = next(row for row in card.made_of(ringers) if row.name == "calcium")
    assert (str(calcium.per_litre), str(calcium.charge)) == ("1.35", "2.7")


def test_phosphate_has_no_equivalent(catalogue: Catalogue) -> None:
    fluid = catalogue.get("multiple-electrolytes-type-1-phosphate")
    assert fluid is not None
    phosphate = next(row for row in card.made_of(fluid) if row.name == "phosphate")
    assert str(phosphate.charge) == "–"


def test_each_computed_figure_has_its_numbers_put_in(ringers: Fluid) -> None:
    figure = next(f for f in card.computed(ringers) if f.name == "Strong ion difference")
    assert figure.value == "27.7 mEq/L"
    assert figure.working == "130 + 4 + 2 × 1.35 − 109 = 27.7"


def test_the_label_s_osmolarity_stands_beside_the_sum(ringers: Fluid) -> None:
    osmolarity, charge = card.checked(ringers)
    assert osmolarity.text.startswith("label 273 mOsm/L, calculated 272.4 mOsm/L, difference −0.2")
    assert charge.text == "cations 136.7, anions 137 mEq/L, difference −0.3"


def test_a_label_without_chloride_cannot_be_checked(catalogue: Catalogue) -> None:
    albumin = catalogue.get("albumin-20")
    assert albumin is not None
    assert {check.text for check in card.checked(albumin)} == {
        "not checked: no chloride on the label"
    }


def test_a_label_without_osmolarity_says_so(ringers: Fluid) -> None:
    bare = replace(ringers, osmolarity_labelled_mosm_l=None)
    assert card.checked(bare)[0].text == "not on the label; calculated 272.4 mOsm/L"


def test_ph_says_what_the_label_says(saline: Fluid) -> None:
    assert card.ph_text(replace(saline, ph=PhRange(4.5, 5, 7))) == "usually 5, 4.5 to 7"
    assert card.ph_text(replace(saline, ph=PhRange())) == "not on the label"


def test_variants_differ_in_named_figures(ringers: Fluid, catalogue: Catalogue) -> None:
    variants = {variant.id: variant for variant in card.variants(ringers, catalogue)}
    differences = variants["compound-sodium-lactate"].differences
    assert "calcium 2 mmol/L, here 1.35 mmol/L" in differences
    assert "lactate 29 mmol/L, here 28 mmol/L" in differences


def test_a_fluid_of_its_own_name_has_no_variants(saline: Fluid, catalogue: Catalogue) -> None:
    assert card.variants(replace(saline, variant_of=""), catalogue) == ()


def test_what_a_variant_lacks_is_said(ringers: Fluid, saline: Fluid) -> None:
    assert "calcium none, here 1.35 mmol/L" in card.differences(ringers, saline)


def test_every_kind_of_figure_names_its_source(ringers: Fluid) -> None:
    named = ", ".join(group.name for group in card.sourced(ringers)).lower()
    assert all(word.lower() in named for word in card.FIGURE_FIELDS.values())
    assert all(group.sources for group in card.sourced(ringers))
