"""What a person counted, told field by field if wrong."""

from datetime import UTC, datetime

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.entry import EntryError
from app.catalogue.fluid import Fluid
from app.catalogue.stock.counting import counts_from, counts_in, field_of
from app.catalogue.stock.counts import BagCount

NOW = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)
ENTRY = {
    "fluid": "sodium-chloride-0.9", "size_ml": 1000, "place": "ward", "bags": 14, "at": NOW,
    "by": "round",
}  # fmt: skip


@pytest.fixture
def saline(catalogue: Catalogue) -> Fluid:
    fluid = catalogue.get("sodium-chloride-0.9")
    assert fluid is not None
    return fluid


def test_a_form_counts_what_is_filled_in(saline: Fluid) -> None:
    typed = {field_of(1000, "ward"): " 14 ", field_of(500, "pharmacy"): "0",
             field_of(250, "ward"): "", "bags-750-ward": "9"}  # fmt: skip
    assert counts_from(typed, saline, NOW, "J.B.") == (
        BagCount(saline.id, 500, "pharmacy", 0, NOW, "J.B."),
        BagCount(saline.id, 1000, "ward", 14, NOW, "J.B."),
    )


@pytest.mark.parametrize(
    "text", ["-1", "+3", "1.5", "12 bags", "6 L", "ten", "10000", "99999999999", "1e2", "٣", "1,2"]
)
def test_only_whole_bags_are_counted(saline: Fluid, text: str) -> None:
    with pytest.raises(EntryError) as fault:
        counts_from({field_of(1000, "ward"): text}, saline, NOW, "")
    assert fault.value.field == "bags-1000-ward"
    assert fault.value.value == text
    assert "no unit" in fault.value.accepted


def test_a_form_with_nothing_in_it_counts_nothing(saline: Fluid) -> None:
    with pytest.raises(EntryError, match="at least one number"):
        counts_from({}, saline, NOW, "")


def test_a_file_counts_each_size_and_place_once(catalogue: Catalogue) -> None:
    (one,) = counts_in({"counted": [ENTRY]}, catalogue)
    assert (one.fluid_id, one.size_ml, one.place, one.bags, one.by) == (
        "sodium-chloride-0.9", 1000, "ward", 14, "round",
    )  # fmt: skip
    with pytest.raises(EntryError, match="once"):
        counts_in({"counted": [ENTRY, ENTRY]}, catalogue)
    assert counts_in({}, catalogue) == ()


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"fluid": "nope"}, "fluid"),
        ({"size_ml": 750}, "size_ml"),
        ({"place": "attic"}, "place"),
        ({"bags": -1}, "bags"),
        ({"bags": "many"}, "bags"),
        ({"at": "today"}, "at"),
        ({"at": datetime(2031, 3, 4)}, "at"),  # noqa: DTZ001 - the zone is what is missing
        ({"colour": "blue"}, "colour"),
    ],
)
def test_a_wrong_field_of_a_file_is_named(
    catalogue: Catalogue, change: dict[str, object], field: str
) -> None:
    with pytest.raises(EntryError) as fault:
        counts_in({"counted": [{**ENTRY, **change}]}, catalogue)
    assert fault.value.field == f"counted[0].{field}"


def test_a_file_holds_nothing_else(catalogue: Catalogue) -> None:
    with pytest.raises(EntryError):
        counts_in({"told": []}, catalogue)
