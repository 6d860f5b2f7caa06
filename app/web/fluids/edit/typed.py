"""What was typed in the form, kept as typed; and the entry that a document fills it with."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any, Final

from fastapi import Request

from app.catalogue.changes.change import Document
from app.web.fluids.edit.fields import (
    COVERED,
    LONGEST,
    LONGEST_TEXT,
    MOST_SOURCES,
    NOT_LABELLED,
    NUMBERS,
    PACKS,
    SINGLE,
    SOURCE_PARTS,
    WORDS,
    source_field,
)

Typed = Mapping[str, str]
# What stands in the form besides the entry: the label it was begun from, what to do, and which of
# two people's figures is taken.
BESIDE: Final = ("label", "do")
CHOSEN: Final = ("take.", "was.")
MOST_CHOICES: Final = 400
SEEN: Final = "1"
DIGITS: Final = 3


async def sent_form(request: Request) -> Typed:
    """What the form holds. Only names of ours; each text as typed, cut where it is a book."""
    async with request.form() as form:
        names = [*SINGLE, *BESIDE, *source_names(_rows(form))]
        names += [name for name in form if name.startswith(CHOSEN)][:MOST_CHOICES]
        return {name: _cut(name, form.get(name)) for name in names if name in form}


def _cut(name: str, value: object) -> str:
    text = value if isinstance(value, str) else ""
    return text[: LONGEST.get(name, LONGEST_TEXT)].replace("\r\n", "\n")


def _rows(names: Iterator[str] | Sequence[str] | Mapping[str, Any]) -> int:
    places = [name.split(".")[1] for name in names if name.startswith("source.")]
    return min(MOST_SOURCES, 1 + max((int(p) for p in places if _is_place(p)), default=-1))


def _is_place(text: str) -> bool:
    return text.isascii() and text.isdigit() and len(text) <= DIGITS and int(text) < MOST_SOURCES


def source_names(rows: int) -> Iterator[str]:
    """The names of so many sources' fields."""
    for place in range(rows):
        yield from (source_field(place, part) for part in SOURCE_PARTS)


def rows_of(typed: Typed) -> int:
    """How many sources the form has, blank ones included; never none."""
    return max(_rows(typed), 1)


def typed_from(document: Document) -> dict[str, str]:
    """The form as an entry fills it: read_typed() makes the same entry of it."""
    typed = {name: text for name in SINGLE if (text := _text(_held(document, name)))}
    typed[PACKS] = ", ".join(map(str, document.get(PACKS, ())))
    typed[WORDS] = "\n".join(document.get(WORDS, ()))
    if _held(document, NOT_LABELLED):
        typed[NOT_LABELLED] = "chloride"
    for place, source in enumerate(document.get("source", ())):
        typed.update(_source(place, source))
    return {name: text for name, text in typed.items() if text}


def _held(document: Document, name: str) -> object:
    table, _, key = name.partition(".")
    held = document.get(table)
    return held.get(key) if key and isinstance(held, Mapping) else (None if key else held)


def _text(value: object) -> str:
    if isinstance(value, bool) or value is None or isinstance(value, list | tuple | Mapping):
        return ""
    return f"{value:.10g}" if isinstance(value, int | float) else str(value)


def _source(place: int, source: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    for part in ("work", "place", "note"):
        yield source_field(place, part), source.get(part, "")
    covers = source.get("covers", ())
    yield source_field(place, "covers"), ", ".join(COVERED.get(one, one) for one in covers)
    yield source_field(place, "seen"), SEEN if source.get("seen") else ""


def numbers_typed(typed: Typed) -> Iterator[tuple[str, str]]:
    """Every figure of the form that is not blank."""
    for name in NUMBERS:
        if typed.get(name, "").strip():
            yield name, typed[name].strip()
