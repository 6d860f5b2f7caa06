"""Every fact, found by the two words it is about, and which of several counts."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Final

from app.catalogue.pairs.fact import PairFact
from app.catalogue.pairs.substance import CLOSELY, Substance

PAIRS_KEPT: Final = 5000
NEWBORN: Final = "newborn"


@dataclass(frozen=True, slots=True)
class Ranked:
    """A fact with how closely it names the two: 4 both by their own names, 0 by kind alone."""

    fact: PairFact
    closeness: int

    @property
    def order(self) -> tuple[int, int]:
        """What counts goes first: the closest, and of those the strictest."""
        return -self.closeness, self.fact.strictness

    @property
    def is_of_a_bag(self) -> bool:
        """True for what may not be mixed in a bag, of which a Y-site is another matter."""
        return self.fact.never_at_once and self.fact.contact == "same bag"

    @property
    def names_both(self) -> bool:
        """True when it names both by their own names."""
        return self.closeness == 2 * CLOSELY


@dataclass(frozen=True, slots=True)
class PairFacts:
    """Every fact, found by the two words it is about."""

    facts: tuple[PairFact, ...] = ()
    _by_pair: Mapping[frozenset[str], tuple[PairFact, ...]] = field(default_factory=dict)
    # The same few pairs meet on every ward, so what was found is kept.
    _met: dict[tuple[Substance, Substance], tuple[Ranked, ...]] = field(
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

    def behind(self, one: Substance, other: Substance) -> tuple[Ranked, ...]:
        """Every fact about two things that are no bags of several, the one that counts for a lumen
        first: the closest, of those the strictest, and last what is said of one bag where the same
        two were also seen by Y-site. Of facts that say the same, one whose source was seen goes
        before one from memory.
        """
        pair = (one, other)
        if pair not in self._met:
            if len(self._met) >= PAIRS_KEPT:
                self._met.clear()
            self._met[pair] = _in_order(tuple(self._sought(one, other)))
        return self._met[pair]

    def in_one_bag(self, one: Substance, other: Substance) -> PairFact | None:
        """The fact that counts for two things in one bag; None when there is none."""
        behind = (r for r in self.behind(one, other) if r.fact.population != NEWBORN)
        first = min(behind, key=lambda r: r.order, default=None)
        return None if first is None else first.fact

    def _sought(self, one: Substance, other: Substance) -> Iterator[Ranked]:
        found: dict[int, Ranked] = {}
        for word, rank in one.ranks().items():
            for other_word, other_rank in other.ranks().items():
                for fact in self._by_pair.get(frozenset((word, other_word)), ()):
                    ranked = Ranked(fact, rank + other_rank)
                    known = found.get(id(fact), ranked)
                    found[id(fact)] = max(known, ranked, key=lambda r: r.closeness)
        yield from found.values()

    def between(self, one: Substance, other: Substance) -> PairFact | None:
        """The fact that counts: that names both most closely, the strictest of several; of bags
        the strictest of their parts. None when there is none.

        Facts about newborns alone are left out: their rule speaks for itself.
        """
        counting = [
            first
            for part, other_part in part_pairs(one, other)
            if (first := self._first(part, other_part)) is not None
        ]
        strictest = min(counting, key=lambda r: (r.fact.strictness, -r.closeness), default=None)
        return None if strictest is None else strictest.fact

    def _first(self, one: Substance, other: Substance) -> Ranked | None:
        older = (r for r in self.behind(one, other) if r.fact.population != NEWBORN)
        first = next(older, None)
        carried = one.is_carrier or other.is_carrier
        return None if carried and first is not None and not first.fact.never_at_once else first

    def is_disputed(self, one: Substance, other: Substance) -> bool:
        """True when they may not meet by one source and may, or on a condition by Y-site, by
        another that names them as closely, for every part that is at stake.
        """
        at_stake = [
            (first, self.behind(part, other_part))
            for part, other_part in part_pairs(one, other)
            if (first := self._first(part, other_part)) is not None and first.fact.never_at_once
        ]
        return bool(at_stake) and all(_differ(first, behind) for first, behind in at_stake)


def _in_order(found: tuple[Ranked, ...]) -> tuple[Ranked, ...]:
    by_y_site = {ranked.closeness for ranked in found if ranked.fact.contact == "Y-site"}

    def _place(ranked: Ranked) -> tuple[int, bool, int, bool]:
        yields = ranked.is_of_a_bag and ranked.closeness in by_y_site
        fact = ranked.fact
        return -ranked.closeness, yields, fact.strictness, not fact.source.seen

    return tuple(sorted(found, key=_place))


def _differ(first: Ranked, behind: Iterable[Ranked]) -> bool:
    return any(
        ranked.closeness == first.closeness and _is_laxer(ranked.fact)
        for ranked in behind
        if ranked.fact.population != NEWBORN
    )


def _is_laxer(fact: PairFact) -> bool:
    by_y_site = fact.verdict == "only if" and fact.contact == "Y-site"
    return by_y_site or fact.verdict == "may run together"


def part_pairs(one: Substance, other: Substance) -> Iterator[tuple[Substance, Substance]]:
    """Each part of one with each of the other; two carriers are not asked about."""
    for part in one.each():
        for other_part in other.each():
            if not (part.is_carrier and other_part.is_carrier):
                yield part, other_part


NO_FACTS: Final = PairFacts()
