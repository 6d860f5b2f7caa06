"""Two people at one entry: what the other wrote, field by field, to be taken over or not."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Final

from app.catalogue.changes.change import Document, FluidEntry
from app.catalogue.changes.differences import NOTHING, differences, flat, name_of
from app.catalogue.changes.history import Filed
from app.review.changes.meanwhile import Meanwhile, began_from, content_at
from app.review.knowledge import Past
from app.web.changes.words import signed_text
from app.web.fluids.edit.fields import LABELS
from app.web.fluids.edit.typed import Typed, typed_from

# What counts now, beside the numbers of others' drafts.
FORCE: Final = "force"
SOURCE: Final = "source"
THEIRS: Final = "theirs"
MINE: Final = "mine"
LONGEST_NUMBER: Final = 9


@dataclass(frozen=True, slots=True)
class Choice:
    """One field that the other changed. name: of the two radio buttons; takes: which is proposed.

    before: what it was when this draft was begun.
    """

    name: str
    was: str
    label: str
    before: str
    mine: str
    theirs: str
    takes: str


@dataclass(frozen=True, slots=True)
class Other:
    """What somebody else made of the entry meanwhile. gone: they take it out of the catalogue."""

    title: str
    number: int
    reason: str
    gone: bool
    choices: tuple[Choice, ...]


def others_of(
    late: Meanwhile, past: Past, subject: str, mine: Document, times: tuple[datetime, datetime]
) -> tuple[Other, ...]:
    """Everybody who was at it. mine: the entry as typed. times: when it was begun, and now."""
    began, now = times
    base = _document(content_at(past, subject, began))
    found = []
    if late.in_force:
        held = _document(content_at(past, subject, now))
        found.append(_other(FORCE, "This came to count meanwhile", 0, "", (base, mine, held)))
    for filed, _ in late.drafts:
        change = filed.change
        title = f"Drafted by {signed_text(change.drafted, now)}"
        theirs = _document(change.content)
        found.append(
            _other(str(change.number), title, change.number, change.reason, (base, mine, theirs))
        )
    return tuple(found)


def _document(content: object) -> Document | None:
    return content.document if isinstance(content, FluidEntry) else None


Three = tuple[Document | None, Document, Document | None]


def _other(key: str, title: str, number: int, reason: str, three: Three) -> Other:
    base, mine, theirs = three
    choices = () if theirs is None else tuple(_choices(key, base or {}, mine, theirs))
    return Other(title, number, reason, theirs is None, choices)


def _choices(key: str, base: Document, mine: Document, theirs: Document) -> Iterator[Choice]:
    """The fields that they changed and that are otherwise here; sources as one field."""
    was, here, there = texts_of(base), texts_of(mine), texts_of(theirs)
    changed = dict.fromkeys(_whole(one.field) for one in differences(base, theirs))
    for field in changed:
        before, own, other = (one.get(field, NOTHING) for one in (was, here, there))
        if own == other:
            continue
        label = LABELS.get(field) or name_of(field)
        takes = THEIRS if own == before else MINE
        yield Choice(f"take.{key}.{field}", f"was.{key}.{field}", label, before, own, other, takes)


def _whole(field: str) -> str:
    return SOURCE if field.startswith(f"{SOURCE}.") else field


def texts_of(document: Document) -> dict[str, str]:
    """Every field as text; all sources together as one."""
    told: dict[str, str] = {}
    for field, text in flat(document):
        name = _whole(field)
        text = f"{name_of(field)}: {text}" if name == SOURCE else text
        told[name] = f"{told[name]}; {text}" if name in told else text
    return told


def taken_over(typed: Typed, mine: Document, theirs: Mapping[str, Document]) -> dict[str, str]:
    """The form with every field whose other version was chosen. A field that was typed anew since
    the choice was offered stays as typed.

    theirs: the others' entries, by the key of their section.
    """
    here, taken = texts_of(mine), dict(typed)
    for name, chosen in typed.items():
        _, key, field = _parts(name)
        if chosen != THEIRS or key not in theirs:
            continue
        if typed.get(f"was.{key}.{field}", NOTHING) == here.get(field, NOTHING):
            _take(taken, field, typed_from(theirs[key]))
    return {name: text for name, text in taken.items() if not name.startswith(("take.", "was."))}


def _parts(name: str) -> tuple[str, str, str]:
    kind, _, rest = name.partition(".")
    key, _, field = rest.partition(".")
    return (kind, key, field) if kind == "take" else ("", "", "")


def _take(taken: dict[str, str], field: str, theirs: Typed) -> None:
    for name in [one for one in (*taken, *theirs) if one == field or _is_source(one, field)]:
        if name in theirs:
            taken[name] = theirs[name]
        else:
            taken.pop(name, None)


def _is_source(name: str, field: str) -> bool:
    return field == SOURCE and name.startswith(f"{SOURCE}.")


def their_entries(typed: Typed, past: Past, subject: str, now: datetime) -> dict[str, Document]:
    """The entries of the others that the form offers to take from, by section."""
    keys = {key for name in typed if (key := _parts(name)[1])}
    found = {key: _their(key, typed, past, subject, now) for key in keys}
    return {key: one for key, one in found.items() if one is not None}


def _their(key: str, typed: Typed, past: Past, subject: str, now: datetime) -> Document | None:
    if key == FORCE:
        began = began_from(typed.get("based_on", ""), now)
        return _document(content_at(past, subject, began))
    is_number = key.isascii() and key.isdigit() and len(key) <= LONGEST_NUMBER
    filed: Filed | None = past.history.get(int(key)) if is_number else None
    if filed is None or filed.change.subject != subject:
        return None
    return _document(filed.change.content)


def nothing_typed(typed: Mapping[str, Any]) -> bool:
    """Whether a form holds no word of an entry."""
    return not any(str(text).strip() for text in typed.values())
