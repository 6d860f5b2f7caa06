"""A column is drawn from the label's figures, in charges."""

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.fluid import Fluid
from app.web.fluids.reference import adult_plasma
from app.web.pictures.ion_columns import NOT_LABELLED, Part
from app.web.pictures.ion_parts import NO_GAP, column_of, plasma_column


def fluid(catalogue: Catalogue, fluid_id: str) -> Fluid:
    found = catalogue.get(fluid_id)
    assert found is not None
    return found


def parts(catalogue: Catalogue, fluid_id: str) -> dict[str, Part]:
    one = fluid(catalogue, fluid_id)
    column = column_of(one.name, one.composition)
    return {part.key: part for part in (*column.cations, *column.anions)}


def test_calcium_stands_with_two_charges_and_says_both_units(catalogue: Catalogue) -> None:
    calcium = parts(catalogue, "lactated-ringers")["calcium"]
    assert calcium.charge_meq_l == pytest.approx(2.7)
    assert calcium.text == "Ca²⁺ 2.7"
    assert calcium.title == "calcium 1.35 mmol/L = 2.7 mEq/L"


def test_phosphate_is_never_given_in_equivalents(catalogue: Catalogue) -> None:
    phosphate = parts(catalogue, "multiple-electrolytes-type-1-phosphate")["phosphate"]
    assert phosphate.text == "phosphate 0.5 mmol"
    assert "mEq" not in phosphate.title


def test_an_ion_the_label_lacks_is_not_drawn(catalogue: Catalogue) -> None:
    assert set(parts(catalogue, "sodium-chloride-0.9")) == {"sodium", "chloride"}


def test_saline_has_no_gap(catalogue: Catalogue) -> None:
    saline = fluid(catalogue, "sodium-chloride-0.9")
    assert column_of(saline.name, saline.composition).gap == NO_GAP


def test_the_malate_fluid_s_gap_is_29_not_34(catalogue: Catalogue) -> None:
    malate = fluid(catalogue, "acetate-malate-balanced")
    assert column_of(malate.name, malate.composition).gap == "29"


def test_chloride_that_is_not_on_the_label_is_an_open_block(catalogue: Catalogue) -> None:
    albumin = fluid(catalogue, "albumin-20")
    column = column_of(albumin.name, albumin.composition)
    assert column.gap_from_meq_l is None
    assert column.gap == ""
    (missing,) = column.anions
    assert missing.key == NOT_LABELLED
    assert missing.text == "not on the label"
    assert missing.charge_meq_l == pytest.approx(albumin.composition.cations_meq_l)


def test_gelatin_carries_its_own_charge(catalogue: Catalogue) -> None:
    gelatin = parts(catalogue, "gelatin-4")["proteins"]
    assert gelatin.symbol == "gelatin"
    assert gelatin.charge_meq_l > 0


def test_plasma_ends_with_what_nobody_measures() -> None:
    column = plasma_column(adult_plasma())
    assert [part.key for part in column.anions][-2:] == ["proteins", "others"]
    assert "not measured" in column.anions[-1].title
    assert len({part.key for part in column.anions}) == len(column.anions)


def test_plasma_is_neutral() -> None:
    column = plasma_column(adult_plasma())
    cations = sum(part.charge_meq_l for part in column.cations)
    assert sum(part.charge_meq_l for part in column.anions) == pytest.approx(cations, abs=0.5)
