"""The form has a field for everything that a catalogue file holds."""

from app.catalogue.catalogue import Catalogue
from app.catalogue.check import figure_fields
from app.catalogue.entry import ION_KEYS, MASS_KEYS, TOP_KEYS
from app.web.fluids.edit.fields import COVERED, NUMBERS, SINGLE, field, said, source_field


def test_every_part_of_a_file_has_its_field() -> None:
    tables = {name.partition(".")[0] for name in SINGLE}
    assert {*tables, "source"} >= TOP_KEYS
    assert {f"composition_mmol_l.{key}" for key in ION_KEYS} <= set(NUMBERS)
    assert {f"composition_g_l.{key}" for key in MASS_KEYS} <= set(NUMBERS)


def test_every_figure_of_the_catalogue_can_be_covered_by_a_source(catalogue: Catalogue) -> None:
    assert {name for one in catalogue for name in figure_fields(one)} <= set(COVERED)


def test_every_cover_in_the_catalogue_has_a_word(catalogue: Catalogue) -> None:
    assert {c for one in catalogue for s in one.sources for c in s.covers} <= set(COVERED)


def test_no_two_fields_of_the_entry_are_called_the_same() -> None:
    labels = [field(name).label for name in SINGLE]
    assert len(labels) == len(set(labels))
    assert all(label[:1].isupper() or label.startswith("pH") for label in labels)


def test_a_field_is_said_as_people_say_it() -> None:
    assert said("composition_mmol_l.potassium") == "Potassium"
    assert said(source_field(1, "covers")) == "Source 2, covers"
