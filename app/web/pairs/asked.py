"""The things a page was asked about, as words in its address."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final
from urllib.parse import urlencode

from app.patient.case import Case
from app.review.pairs.things import LONGEST, Thing, things_of

PAGE: Final = "/co-infusion"
MOST_THINGS: Final = 8
FIELDS_AT_LEAST: Final = 3


@dataclass(frozen=True, slots=True)
class Choice:
    """One thing that words may mean, and the page that asks about it instead."""

    name: str
    href: str


@dataclass(frozen=True, slots=True)
class Field:
    """One field of the form. error: why its words are not understood; ask: what they leave open."""

    number: int
    value: str = ""
    error: str = ""
    ask: str = ""
    choices: tuple[Choice, ...] = ()


def words_asked(sent: Iterable[str]) -> tuple[str, ...]:
    """The words that name something, each once, as many as the page takes."""
    plain = (" ".join(words.split())[:LONGEST] for words in sent)
    return tuple(dict.fromkeys(filter(None, plain)))[:MOST_THINGS]


def address(words: Iterable[str]) -> str:
    """The page about these things."""
    query = urlencode([("thing", each) for each in words])
    return f"{PAGE}?{query}" if query else PAGE


def address_of(case: Case) -> str:
    """The page about everything that runs in a patient; empty with nothing to pair."""
    names = words_asked(
        thing.meant[0].name if len(thing.meant) == 1 else thing.written for thing in things_of(case)
    )
    return address(names) if len(names) > 1 else ""


def fields_of(things: Sequence[Thing]) -> tuple[Field, ...]:
    """The form as it was sent, with blank fields for more."""
    words = [thing.written for thing in things]
    filled = [_field(number, thing, words) for number, thing in enumerate(things, 1)]
    wanted = min(max(FIELDS_AT_LEAST, len(filled) + 1), MOST_THINGS)
    blank = (Field(number) for number in range(len(filled) + 1, wanted + 1))
    return (*filled, *blank)


def _field(number: int, thing: Thing, words: Sequence[str]) -> Field:
    before, after = words[: number - 1], words[number:]
    choices = tuple(Choice(name, address([*before, name, *after])) for name in thing.choices)
    if thing.is_understood:
        return Field(number, thing.written, ask=thing.ask, choices=choices)
    error = f"“{thing.written}” is not understood. {thing.ask}"
    return Field(number, thing.written, error=error, choices=choices)
