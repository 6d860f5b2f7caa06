"""What a review offers beside its findings: ways out, and advice with what cannot be had said."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from app.catalogue.catalogue import Catalogue
from app.catalogue.stock.stock import NOTHING_TOLD, Stock
from app.cautions.assess import Found, Ruleset
from app.cautions.phrases import ASIDE
from app.review.assess import Review
from app.review.way_out import Alternative, WaysOut

KEPT_NAMES: Final = 4


@dataclass(frozen=True, slots=True)
class Offers:
    """Ways out of every order of a review, by its id, with the stock they were sought in."""

    ways: Mapping[str, WaysOut]
    catalogue: Catalogue
    stock: Stock

    @staticmethod
    def of(
        review: Review, catalogue: Catalogue, ruleset: Ruleset, stock: Stock = NOTHING_TOLD
    ) -> "Offers":
        """The offers of one review; each is sought only when asked for."""
        return Offers(WaysOut.of(review, catalogue, ruleset, stock), catalogue, stock)

    def alternatives(self, found: Found, order_ids: Iterable[str]) -> tuple[Alternative, ...]:
        """Other fluids that clear a finding, sought for the first of these orders."""
        first = next((self.ways[key] for key in order_ids if key in self.ways), None)
        return first.alternatives(found) if first else ()

    def advice(self, found: Found) -> str:
        """What to do, and which fluids it names that are out or withdrawn here."""
        do = found.do
        if not self.stock.states:
            return do
        named = dict.fromkeys(_names(self.catalogue).findall(do))
        lacks = (f"Here {name} is {state}." for name in named if (state := self._lack(name)))
        return " ".join((do, *lacks))

    def _lack(self, name: str) -> str:
        """ "out" or "withdrawn" when none of the fluids of this name is to be had, else empty."""
        states = [self.stock.of(f.id) for f in self.catalogue if _bare(f.name) == name]
        return "" if any(one.may_be_offered for one in states) else states[0].state


@lru_cache(maxsize=KEPT_NAMES)
def _names(catalogue: Catalogue) -> re.Pattern[str]:
    """Every name without its brackets; of names that begin alike the longest is found."""
    names = sorted({_bare(fluid.name) for fluid in catalogue}, key=len, reverse=True)
    return re.compile(rf"(?<![\w.])(?:{'|'.join(map(re.escape, names))})(?!\w)")


def _bare(name: str) -> str:
    return ASIDE.sub("", name)
