"""What an act changed, field by field, out of the two documents it was recorded with."""

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Final

from app.catalogue.changes.differences import flat, name_of
from app.web.show import number

NOT_THERE: Final = "nothing"
MOST_FIELDS: Final = 80
LONGEST_VALUE: Final = 400
PLACES: Final = 6
YES_OR_NO: Final = {True: "yes", False: "no"}
Document = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Field:
    """One field that an act changed, or was recorded with. before: empty where there was none."""

    name: str
    before: str
    after: str


def document_of(text: str | None) -> Document | None:
    """A document out of its stored text; None when there is none.

    Text that is no object any more was edited in the database; it is shown, never an error.
    """
    if text is None:
        return None
    try:
        read = json.loads(text)
    except ValueError:
        return {"not readable": text[:LONGEST_VALUE]}
    return read if isinstance(read, dict) else {"value": read}


def fields_of(before: Document | None, after: Document | None) -> tuple[Field, ...]:
    """Every field that differs, in the order of the documents; all of them where one is missing."""
    old, new = dict(_flat(before or {})), dict(_flat(after or {}))
    names = _differing(old, new)
    return tuple(
        Field(_said(name), _value(old, name, before), _value(new, name, after))
        for name in names[:MOST_FIELDS]
    )


def fluid_fields(before: Document | None, after: Document | None) -> tuple[Field, ...]:
    """Every field of a catalogue entry that differs, by the names people use."""
    try:
        old, new = (dict(flat(one)) if one else {} for one in (before, after))
    except (AttributeError, TypeError):  # no entry any more: it was edited in the database
        return fields_of(before, after)
    names = _differing(old, new)
    return tuple(
        Field(
            name_of(name),
            "" if before is None else old.get(name, NOT_THERE)[:LONGEST_VALUE],
            "" if after is None else new.get(name, NOT_THERE)[:LONGEST_VALUE],
        )
        for name in names[:MOST_FIELDS]
    )


def value_text(value: object) -> str:
    """One value as people read it; a number in no more digits than it has."""
    if value is None:
        return NOT_THERE
    if isinstance(value, bool):
        return YES_OR_NO[value]
    if isinstance(value, int | float):
        return number(value, PLACES)
    text = value if isinstance(value, str) else json.dumps(value, ensure_ascii=False)
    return text[:LONGEST_VALUE]


def _differing(old: Mapping[str, object], new: Mapping[str, object]) -> list[str]:
    return [
        name
        for name in dict.fromkeys((*old, *new))
        if name not in old or name not in new or old[name] != new[name]
    ]


def _value(values: Mapping[str, object], name: str, document: Document | None) -> str:
    if document is None:
        return ""
    return value_text(values[name]) if name in values else NOT_THERE


def _flat(document: Document, path: str = "") -> Iterator[tuple[str, object]]:
    """Values by their path; lists of plain values stay one value."""
    for key, value in document.items():
        whole = f"{path}{key}"
        if isinstance(value, dict) and value:
            yield from _flat(value, f"{whole} › ")
        elif isinstance(value, list) and any(isinstance(part, dict) for part in value):
            numbered = {str(place): part for place, part in enumerate(value, 1)}
            yield from _flat(numbered, f"{whole} › ")
        elif isinstance(value, list):
            yield whole, ", ".join(map(value_text, value))
        else:
            yield whole, value


def _said(name: str) -> str:
    return name.replace("_", " ")
