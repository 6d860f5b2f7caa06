"""What was typed, read as a catalogue file would be: every fault told beside its own field."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any, Final

from app.catalogue.entry import BASES, EntryError, fluid_from, source_of
from app.catalogue.fluid import Fluid
from app.web.fluids.edit.fields import (
    BASIS,
    COVERED,
    COVERED_BY_WORD,
    EXPLAINED,
    IONS_TABLE,
    LABEL_FIGURES,
    MASSES_TABLE,
    NOT_LABELLED,
    PACKS,
    SIGNED,
    TEXTS,
    WORDS,
    source_field,
)
from app.web.fluids.edit.typed import SEEN, Typed, numbers_typed, rows_of

# "1,000" may be one or a thousand: it is asked about, never taken.
DOUBTFUL: Final = re.compile(r"-?[1-9]\d*,\d{3}", re.ASCII)
NUMBER: Final = re.compile(r"-?\d+(?:[.,]\d+)?", re.ASCII)
MOST: Final = 100_000.0
MOST_PACK_ML: Final = 100_000
LONGEST_NAME: Final = 120
MOST_WORDS: Final = 60
# As many fields as an entry has.
MOST_FAULTS: Final = 80
APART: Final = re.compile(r"[\s,;]+")
PLACEHOLDERS: Final[Mapping[str, Any]] = {
    "name": "?", "kind": "crystalloid", "source": [{"work": "?"}],
}  # fmt: skip
CHLORIDE: Final = f"{IONS_TABLE}.chloride"


@dataclass(frozen=True, slots=True)
class Read:
    """An entry as far as it could be read. fluid: with what was not accepted left out.

    faults: what is not accepted, by the field it stands in.
    """

    document: Mapping[str, Any]
    fluid: Fluid
    faults: Mapping[str, EntryError] = field(default_factory=dict)


class _Faults(dict[str, EntryError]):
    """Faults by field; the first of a field is kept."""

    def tell(self, name: str, value: object, accepted: str) -> None:
        self.setdefault(name, EntryError(name, value, accepted))

    def number(self, name: str, text: str) -> float | int | None:
        """The number, or None with its fault noted."""
        try:
            return number_typed(name, text)
        except EntryError as fault:
            self.setdefault(fault.field, fault)
            return None


def read_typed(typed: Typed, fluid_id: str) -> Read:
    """The entry that was typed, read by the same functions that read files."""
    faults = _Faults()
    document: dict[str, Any] = {"id": fluid_id}
    for name in TEXTS:
        _put(document, name, typed.get(name, "").strip())
    if len(document.get("name", "")) > LONGEST_NAME:
        faults.tell("name", document["name"], f"at most {LONGEST_NAME} letters")
    _put(document, WORDS, _words(typed, faults))
    _put(document, PACKS, _packs(typed, faults))
    for name, text in numbers_typed(typed):
        value = faults.number(name, text)
        if value or (value is not None and name in LABEL_FIGURES):
            _put(document, name, value)
    _chloride(typed, document, faults)
    _glucose(typed, document, faults)
    for name in EXPLAINED:
        _put(document, name, typed.get(name, "").strip())
    _put(document, "source", _sources(typed, faults))
    fluid = _fluid(document, fluid_id, faults)
    return Read(document, fluid, dict(faults))


def number_typed(name: str, text: str) -> float | int:
    """A number as typed, with a point or a comma. Raises EntryError naming the field."""
    accepted = "a number" if name in SIGNED else "a number, 0 or more"
    if DOUBTFUL.fullmatch(text):
        thousand, point = text.replace(",", ""), text.replace(",", ".")
        raise EntryError(name, text, f"{thousand}, or {point}: a comma there may mean either")
    if not NUMBER.fullmatch(text.replace("−", "-")):
        raise EntryError(name, text, f"{accepted}, such as 4 or 1.35, without its unit")
    value = float(text.replace("−", "-").replace(",", "."))
    if abs(value) > MOST or (value < 0 and name not in SIGNED):
        raise EntryError(name, text, f"{accepted}, to {MOST:,.0f}")
    return int(value) if value.is_integer() else value


def _put(document: dict[str, Any], name: str, value: object) -> None:
    """Set a field by its path; what is empty is left out."""
    table, _, key = name.partition(".")
    if value in ("", [], None):
        return
    if key:
        document.setdefault(table, {})[key] = value
    else:
        document[table] = value


def _words(typed: Typed, faults: _Faults) -> list[str]:
    words = [one.strip() for one in re.split(r"[\n;]", typed.get(WORDS, "")) if one.strip()]
    if len(words) > MOST_WORDS:
        faults.tell(WORDS, f"{len(words)} of them", f"at most {MOST_WORDS}, one on a line")
    return list(dict.fromkeys(words))


def _packs(typed: Typed, faults: _Faults) -> list[int]:
    written = [one for one in APART.split(typed.get(PACKS, "").strip()) if one]
    wrong = [one for one in written if not (one.isascii() and one.isdigit())]
    if wrong:
        faults.tell(PACKS, wrong[0], "whole mL, one after another, such as 250, 500, 1000")
        return []
    sizes = [int(one[:9]) for one in written]
    if any(size > MOST_PACK_ML for size in sizes):
        faults.tell(PACKS, max(sizes), f"at most {MOST_PACK_ML} mL")
        return []
    return sizes


def _chloride(typed: Typed, document: dict[str, Any], faults: _Faults) -> None:
    """Chloride is on the label or it is not; both at once would lose the figure."""
    if not typed.get(NOT_LABELLED):
        return
    if typed.get(CHLORIDE, "").strip():
        faults.tell(CHLORIDE, typed[CHLORIDE], "a number, or that it is not on the label, not both")
        return
    _put(document, NOT_LABELLED, ["chloride"])


def _glucose(typed: Typed, document: dict[str, Any], faults: _Faults) -> None:
    basis = typed.get(BASIS, "").strip()
    if basis and basis not in BASES:
        faults.tell(BASIS, basis, " or ".join(BASES))
    elif basis and document.get(MASSES_TABLE, {}).get("glucose"):
        _put(document, BASIS, basis)


def _sources(typed: Typed, faults: _Faults) -> list[dict[str, Any]]:
    return [one for place in range(rows_of(typed)) if (one := _source(place, typed, faults))]


def _source(place: int, typed: Typed, faults: _Faults) -> dict[str, Any]:
    """One source; empty when its row is blank."""
    told = {
        part: typed.get(source_field(place, part), "").strip() for part in ("work", "place", "note")
    }
    covers = list(_covers(place, typed, faults))
    if not any(told.values()) and not covers:
        return {}
    source: dict[str, Any] = {
        **{part: text for part, text in told.items() if text},
        "covers": covers,
    }
    source["seen"] = typed.get(source_field(place, "seen")) == SEEN
    try:
        source_of(source)
    except EntryError:
        faults.tell(source_field(place, "work"), "", "the label, paper or book it is from")
        return {}
    return source


def _covers(place: int, typed: Typed, faults: _Faults) -> Iterator[str]:
    name = source_field(place, "covers")
    for one in re.split(r"[,;\n]", typed.get(name, "")):
        word = " ".join(one.split())
        if word and word.casefold() not in COVERED_BY_WORD:
            faults.tell(name, word, f"nothing for all, or some of: {', '.join(COVERED.values())}")
        elif word:
            yield COVERED_BY_WORD[word.casefold()]


def _fluid(document: Mapping[str, Any], fluid_id: str, faults: _Faults) -> Fluid:
    """The fluid, with each field that is not accepted told and left out until the rest reads."""
    held = dict(document)
    for _ in range(MOST_FAULTS):
        try:
            return fluid_from(held, file_id=fluid_id)
        except EntryError as fault:
            faults.setdefault(fault.field, fault)
            held = _without(held, fault.field)
    return fluid_from({"id": fluid_id, **PLACEHOLDERS}, file_id=fluid_id)


def _without(document: Mapping[str, Any], name: str) -> dict[str, Any]:
    table, _, key = name.partition(".")
    rest = {one: value for one, value in document.items() if one != table}
    if table in PLACEHOLDERS:
        return {**rest, table: PLACEHOLDERS[table]}
    if name == BASIS:
        return {**rest, table: {**document[table], key: BASES[0]}} if table in document else rest
    if not key:
        return rest
    return {**rest, table: {k: v for k, v in document[table].items() if k != key}}
