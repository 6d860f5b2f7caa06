"""What was typed is read as a file would be, and what is not accepted stands beside its field."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.catalogue.entry import EntryError
from app.web.fluids.edit.fields import SINGLE, source_field
from app.web.fluids.edit.reading import number_typed, read_typed

SODIUM = "composition_mmol_l.sodium"
SALINE = {
    "name": "0.9% sodium chloride here", "kind": "crystalloid", SODIUM: "154",
    "composition_mmol_l.chloride": "154", "source.0.work": "the label", "source.0.seen": "1",
}  # fmt: skip


def fault(**fields: str) -> EntryError:
    named = {name.replace("__", "."): text for name, text in fields.items()}
    (told,) = read_typed({**SALINE, **named}, "saline-here").faults.values()
    return told


def test_a_whole_entry_is_read() -> None:
    read = read_typed(SALINE, "saline-here")
    assert read.faults == {}
    assert read.fluid.composition.sodium_mmol_l == 154
    assert read.fluid.sources[0].seen


@pytest.mark.parametrize(
    ("text", "value"), [("4", 4), ("1.35", 1.35), ("1,35", 1.35), ("0,500", 0.5), ("1000", 1000)]
)
def test_a_number_may_have_a_point_or_a_comma(text: str, value: float) -> None:
    assert number_typed(SODIUM, text) == value


@pytest.mark.parametrize(
    "text", ["-4", "4 mmol", "1e3", "nan", "inf", "1.2.3", "1,2,3", "1 000", "٤", "999999999"]
)
def test_what_is_no_amount_is_not_taken(text: str) -> None:
    with pytest.raises(EntryError) as told:
        number_typed(SODIUM, text)
    assert (told.value.field, told.value.value) == (SODIUM, text)
    assert "a number, 0 or more" in told.value.accepted


def test_a_comma_that_may_mean_a_thousand_is_asked_about() -> None:
    with pytest.raises(EntryError, match=r"1350, or 1\.350"):
        number_typed(SODIUM, "1,350")


def test_the_charge_of_a_colloid_has_a_sign() -> None:
    assert number_typed("other.colloid_charge_meq_l", "−34") == -34


@pytest.mark.parametrize(
    ("fields", "field", "accepted"),
    [
        ({"name": "  "}, "name", "a text"),
        ({"name": "x" * 121}, "name", "at most 120"),
        ({"kind": "juice"}, "kind", "crystalloid, colloid"),
        ({"pack_sizes_ml": "500 big"}, "pack_sizes_ml", "whole mL"),
        ({"pack_sizes_ml": "250.5"}, "pack_sizes_ml", "whole mL"),
        ({"pack_sizes_ml": "999999999999"}, "pack_sizes_ml", "at most"),
        ({"search_words": "\n".join(map(str, range(99)))}, "search_words", "at most 60"),
        ({"composition_g_l__glucose": "50"}, "composition_g_l.glucose_basis", "monohydrate"),
        ({"composition_g_l__glucose_basis": "wet"}, "composition_g_l.glucose_basis", "anhydrous"),
        ({"composition_mmol_l__not_labelled": "1"}, "composition_mmol_l.chloride", "not both"),
        ({"source__0__covers": "potasium"}, "source.0.covers", "composition, sodium"),
        ({"ph__low": "acid"}, "ph.low", "a number"),
    ],
)
def test_what_is_not_accepted_is_told_at_its_field(
    fields: dict[str, str], field: str, accepted: str
) -> None:
    told = fault(**fields)
    assert told.field == field
    assert accepted in told.accepted


def test_every_fault_is_told_at_once_and_the_rest_is_read() -> None:
    wrong = {**SALINE, "name": "", "kind": "", "ph.low": "x", SODIUM: "y"}
    read = read_typed(wrong, "saline-here")
    assert set(read.faults) == {"name", "kind", "ph.low", SODIUM}
    assert read.fluid.composition.chloride_mmol_l == 154


def test_an_entry_without_a_source_is_not_accepted() -> None:
    read = read_typed({**SALINE, "source.0.work": "", "source.0.seen": ""}, "saline-here")
    assert set(read.faults) == {"source"}


def test_a_source_without_a_work_is_told_in_its_own_row() -> None:
    read = read_typed({**SALINE, "source.1.place": "page 3"}, "saline-here")
    assert set(read.faults) == {source_field(1, "work")}


def test_chloride_on_no_label_is_not_known() -> None:
    typed = {**SALINE, "composition_mmol_l.chloride": "", "composition_mmol_l.not_labelled": "1"}
    assert read_typed(typed, "saline-here").fluid.composition.chloride_mmol_l is None


def test_words_and_sizes_are_read_each_once_in_their_order() -> None:
    typed = {**SALINE, "search_words": "saline\n NS-9 \nsaline", "pack_sizes_ml": "250, 500;1000"}
    fluid = read_typed(typed, "saline-here").fluid
    assert fluid.search_words == ("saline", "NS-9")
    assert fluid.pack_sizes_ml == (250, 500, 1000)


def test_the_words_of_covers_are_those_people_use() -> None:
    typed = {**SALINE, "source.0.covers": "composition, pH Low, bag sizes; Osmolarity"}
    (source,) = read_typed(typed, "saline-here").fluid.sources
    assert source.covers == ("composition", "ph.low", "pack_sizes", "osmolarity")


NAMES = st.sampled_from([*SINGLE, *(source_field(0, p) for p in ("work", "covers", "note"))])


@given(st.dictionaries(NAMES, st.text(max_size=30), max_size=12))
def test_anything_typed_is_read_without_a_crash(typed: dict[str, str]) -> None:
    read = read_typed({**SALINE, **typed}, "saline-here")
    assert read.fluid.id == "saline-here"
    assert all(told.accepted for told in read.faults.values())
