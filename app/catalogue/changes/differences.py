"""Two entries of one fluid laid beside each other, field by field, in the trade's words."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

from app.catalogue.amounts import QUANTITIES
from app.catalogue.changes.change import Document

NOTHING: Final = "nothing"
NOT_THERE: Final = "not in the catalogue"
NAMES: Final = {
    "name": "name", "kind": "sort of fluid", "variant_of": "bare name it shares",
    "reference_id": "second key", "search_words": "words people search by",
    "pack_sizes_ml": "bag sizes, mL", "energy_kcal_l": "energy, kcal/L",
    "osmolarity_labelled_mosm_l": "osmolarity on the label, mOsm/L",
    "never_hung": "why it is never hung as it is", "note": "note",
    "ph.low": "pH, lowest", "ph.typical": "pH, usual", "ph.high": "pH, highest",
    "composition_mmol_l.not_labelled": "not on the label",
    "composition_g_l.glucose_basis": "glucose counted as",
    "other.other_solute_mmol_l": "other solutes, mmol/L",
    "other.colloid_charge_meq_l": "charge of the colloid, mEq/L",
    "explained.osmolarity": "why osmolarity differs from the label",
    "explained.charge": "why charges do not balance",
    "composition_g_l.glucose": "glucose, g/L",
}  # fmt: skip
AMOUNTS: Final = {
    f"composition_{'mmol' if one.unit == 'mmol' else 'g'}_l.{one.key}": f"{one.name}, {one.unit}/L"
    for one in QUANTITIES
}
SOURCE: Final = "source"
FIRST: Final = (
    ("name", "kind", "variant_of", "never_hung"),
    ("composition_mmol_l", "composition_g_l", "other"),
    ("osmolarity_labelled_mosm_l", "ph", "energy_kcal_l", "pack_sizes_ml"),
)
EMPTY: Final[tuple[object, ...]] = (None, "", [], {})


@dataclass(frozen=True, slots=True)
class Difference:
    """One field that differs. field: its path in the entry; name: as people say it."""

    field: str
    name: str
    before: str
    after: str

    def __str__(self) -> str:
        return f"{self.name}: {self.before}, then {self.after}"


def differences(before: Document | None, after: Document | None) -> tuple[Difference, ...]:
    """Every field in which two entries differ, what is in the bag first; either may be missing."""
    if before is None or after is None:
        return () if before == after else (_whole(before, after),)
    old, new = dict(flat(before)), dict(flat(after))
    fields = [field for field in dict.fromkeys((*old, *new)) if old.get(field) != new.get(field)]
    return tuple(
        Difference(field, name_of(field), old.get(field, NOTHING), new.get(field, NOTHING))
        for field in sorted(fields, key=_place)
    )


def _place(field: str) -> int:
    """What harms most when it is overlooked comes first; within that, the order of an entry."""
    part = field.partition(".")[0]
    return next((n for n, parts in enumerate(FIRST) if part in parts), len(FIRST))


def _whole(before: Document | None, after: Document | None) -> Difference:
    there = [NOT_THERE if one is None else str(one.get("name", "")) for one in (before, after)]
    return Difference("", "the whole entry", *there)


def flat(document: Document) -> Iterator[tuple[str, str]]:
    """Every field of an entry with its value as text; what holds nothing is left out.

    An amount of nothing in a litre is what is left out; a label's own figure of 0 is told.
    """
    for key, value in document.items():
        if key == SOURCE:
            yield from _sources(value)
        elif isinstance(value, Mapping):
            yield from (
                (f"{key}.{part}", _text(one))
                for part, one in value.items()
                if one or (one == 0 and key == "ph")
            )
        elif value not in EMPTY:
            yield key, _text(value)


def _sources(sources: Sequence[Document]) -> Iterator[tuple[str, str]]:
    """Sources by what they cover, so that one that only changes its place is no difference."""
    told: dict[str, list[str]] = {}
    for source in sources:
        covers = ", ".join(source.get("covers", ())) or "everything"
        parts = [source.get(part, "") for part in ("work", "place", "note")]
        seen = "text seen" if source.get("seen") else "from memory"
        told.setdefault(covers, []).append(", ".join([*filter(None, parts), seen]))
    for covers, texts in told.items():
        yield f"{SOURCE}.{covers}", "; ".join(sorted(texts))


def name_of(field: str) -> str:
    """A field as people say it: "sodium, mmol/L"; "source of composition"."""
    part, _, covers = field.partition(".")
    if part == SOURCE:
        return f"source of {covers.replace('_', ' ')}"
    return NAMES.get(field) or AMOUNTS.get(field) or field.replace("_", " ").replace(".", ", ")


def _text(value: Any) -> str:  # noqa: ANN401 - any JSON value
    if isinstance(value, float | int) and not isinstance(value, bool):
        return f"{value:g}"
    if isinstance(value, list | tuple):
        return ", ".join(_text(one) for one in value)
    return str(value)
