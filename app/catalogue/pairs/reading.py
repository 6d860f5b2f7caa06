"""Facts about pairs from parsed TOML, told by pair and field when wrong."""

from collections.abc import Iterable, Iterator, Mapping
from itertools import product
from typing import Any, Final, get_args

from app.catalogue.pairs.fact import Contact, HowSeen, PairFact, Population, Scope, Verdict
from app.catalogue.pairs.facts import PairFacts
from app.catalogue.source import Source

TEXTS: Final = ("condition", "mechanism", "strength", "vehicle", "source_note")
CHOICES: Final[Mapping[str, Any]] = {
    "verdict": Verdict, "contact": Contact, "how_seen": HowSeen, "population": Population,
    "scope": Scope,
}  # fmt: skip
NEEDED: Final = ("a", "b", "verdict", "source")
KEYS: Final = frozenset({*NEEDED, *TEXTS, *CHOICES, "hours", "seen"})


def pair_facts_from(tables: Iterable[Mapping[str, Any]]) -> PairFacts:
    """Facts from parsed TOML tables of [[pair]]. ValueError says what is wrong with which pair."""
    return PairFacts.of(
        fact for table in tables for entry in table.get("pair", ()) for fact in _facts(entry)
    )


def _facts(entry: Mapping[str, Any]) -> Iterator[PairFact]:
    """One entry is as many facts as its lists of a and b make pairs."""
    name = f"{entry.get('a', '?')} and {entry.get('b', '?')}"
    _check(name, entry)
    for a, b in product(_words(entry["a"]), _words(entry["b"])):
        yield _fact(a, b, entry)


def _check(name: str, entry: Mapping[str, Any]) -> None:
    fault = next(_faults(entry), None)
    if fault is not None:
        raise ValueError(f"{name}: {fault}")


def _faults(entry: Mapping[str, Any]) -> Iterator[str]:
    yield from (f"unknown key {key!r}" for key in sorted(set(entry) - KEYS))
    yield from (f"{key} is missing" for key in NEEDED if not entry.get(key))
    for key, accepted in CHOICES.items():
        if key in entry and entry[key] not in get_args(accepted):
            yield f"{key} must be one of {', '.join(filter(None, get_args(accepted)))}"
    yield from (f"{key} must be a text" for key in TEXTS if not isinstance(entry.get(key, ""), str))
    hours = entry.get("hours", 1)
    if isinstance(hours, bool) or not isinstance(hours, int | float) or hours <= 0:
        yield "hours must be a number above 0"


def _words(written: object) -> tuple[str, ...]:
    return (written,) if isinstance(written, str) else tuple(written)  # type: ignore[arg-type]


def _fact(a: str, b: str, entry: Mapping[str, Any]) -> PairFact:
    note = entry.get("source_note", "")
    return PairFact(
        a=a,
        b=b,
        verdict=entry["verdict"],
        source=Source(entry["source"], seen=bool(entry.get("seen", False)), note=note),
        condition=entry.get("condition", ""),
        mechanism=entry.get("mechanism", ""),
        population=entry.get("population", "all"),
        contact=entry.get("contact", ""),
        strength=entry.get("strength", ""),
        vehicle=entry.get("vehicle", ""),
        hours=entry.get("hours"),
        how_seen=entry.get("how_seen", ""),
        scope=entry.get("scope", "lumen"),
    )
