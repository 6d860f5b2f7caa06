"""What is known of two things in one lumen: may run together, keep apart, only if, no data."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any, Final, Literal, cast, get_args

from app.catalogue.source import Source

Verdict = Literal["may run together", "keep apart", "only if", "no data"]
# Which of two facts of one rank counts: the stricter.
STRICTEST_FIRST: Final[tuple[Verdict, ...]] = (
    "keep apart", "no data", "only if", "may run together",
)  # fmt: skip
PAIRS_KEPT: Final = 5000
KEYS: Final = frozenset(
    {"a", "b", "verdict", "condition", "mechanism", "population", "source", "seen"}
)


@dataclass(frozen=True, slots=True)
class PairFact:
    """One fact about two substances in one lumen.

    a, b: a drug's key, a fluid's id, a mark ("calcium", "blood"), or "any drug", "any fluid".
    condition: when the verdict holds. population: "all", or whom it is about.
    """

    a: str
    b: str
    verdict: Verdict
    source: Source
    condition: str = ""
    mechanism: str = ""
    population: str = "all"


@dataclass(frozen=True, slots=True)
class Substance:
    """What runs, as facts name it: by its own names first, by its marks next, by kind last."""

    names: frozenset[str]
    marks: frozenset[str] = frozenset()
    kind: Literal["any drug", "any fluid"] = "any drug"

    def ranks(self) -> Mapping[str, int]:
        """Every word a fact may use for it, with how closely it names it: 2, 1 or 0."""
        return {self.kind: 0, **dict.fromkeys(self.marks, 1), **dict.fromkeys(self.names, 2)}


@dataclass(frozen=True, slots=True)
class PairFacts:
    """Every fact, found by the two words it is about."""

    facts: tuple[PairFact, ...] = ()
    _by_pair: Mapping[frozenset[str], tuple[PairFact, ...]] = field(default_factory=dict)
    # The same few pairs meet on every ward, so what was found is kept.
    _met: dict[tuple[Substance, Substance], PairFact | None] = field(
        default_factory=dict, compare=False, repr=False
    )

    @staticmethod
    def of(facts: Iterable[PairFact]) -> "PairFacts":
        """The facts with their index."""
        kept = tuple(facts)
        by_pair: dict[frozenset[str], tuple[PairFact, ...]] = {}
        for fact in kept:
            pair = frozenset((fact.a, fact.b))
            by_pair[pair] = (*by_pair.get(pair, ()), fact)
        return PairFacts(kept, by_pair)

    def between(self, one: Substance, other: Substance) -> PairFact | None:
        """The fact that names both most closely, the strictest of several; None when there is none.

        Facts about newborns alone are left out: their rule speaks for itself.
        """
        pair = (one, other)
        if pair not in self._met:
            if len(self._met) >= PAIRS_KEPT:
                self._met.clear()
            self._met[pair] = self._sought(one, other)
        return self._met[pair]

    def _sought(self, one: Substance, other: Substance) -> PairFact | None:
        found = [
            (-rank - other_rank, STRICTEST_FIRST.index(fact.verdict), number, fact)
            for word, rank in one.ranks().items()
            for other_word, other_rank in other.ranks().items()
            for number, fact in enumerate(self._by_pair.get(frozenset((word, other_word)), ()))
            if fact.population != "newborn"
        ]
        return min(found, key=lambda each: each[:3])[3] if found else None


NO_FACTS: Final = PairFacts()


def pair_facts_from(tables: Iterable[Mapping[str, Any]]) -> PairFacts:
    """Facts from parsed TOML tables of [[pair]]. ValueError says what is wrong with which pair."""
    return PairFacts.of(_fact(entry) for table in tables for entry in table.get("pair", ()))


def _fact(entry: Mapping[str, Any]) -> PairFact:
    name = f"{entry.get('a', '?')} and {entry.get('b', '?')}"
    unknown = sorted(set(entry) - KEYS)
    if unknown:
        raise ValueError(f"{name}: unknown key {unknown[0]!r}")
    for key in ("a", "b", "verdict", "source"):
        if not entry.get(key):
            raise ValueError(f"{name}: {key} is missing")
    if entry["verdict"] not in get_args(Verdict):
        raise ValueError(f"{name}: verdict must be one of {', '.join(get_args(Verdict))}")
    return PairFact(
        a=entry["a"],
        b=entry["b"],
        verdict=cast(Verdict, entry["verdict"]),
        condition=entry.get("condition", ""),
        mechanism=entry.get("mechanism", ""),
        population=entry.get("population", "all"),
        source=Source(entry["source"], seen=bool(entry.get("seen", False))),
    )
