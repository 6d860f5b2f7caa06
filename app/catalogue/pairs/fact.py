"""One fact about two things in one lumen: what was said, under what conditions, and by whom."""

from dataclasses import dataclass
from typing import Final, Literal

from app.catalogue.source import Source

Verdict = Literal["keep apart", "in turn", "no data", "only if", "may run together"]
# Which of two facts of one rank counts: the stricter.
STRICTEST_FIRST: Final[tuple[Verdict, ...]] = (
    "keep apart", "in turn", "no data", "only if", "may run together",
)  # fmt: skip
# Never on one lumen at the same time, whatever the circumstances.
NEVER_AT_ONCE: Final = ("keep apart", "in turn")
Contact = Literal["", "same bag", "Y-site", "in turn", "any line"]
HowSeen = Literal[
    "", "label statement", "bench study", "harm reported", "rule of transfusion practice",
    "known chemistry", "usual practice",
]  # fmt: skip
Population = Literal["all", "past 28 days", "newborn"]
# lumen: not at the same time on one; patient: not both to this patient at all, by whatever line.
Scope = Literal["lumen", "patient"]
ANY_DRUG: Final = "any drug"
ANY_FLUID: Final = "any fluid"


@dataclass(frozen=True, slots=True)
class PairFact:
    """One fact about two substances in one lumen.

    a, b: a drug's key, a fluid's id, a mark ("calcium", "blood"), or "any drug", "any fluid".
    contact: how they met; strength, vehicle: at what strength and made up in what; hours: for how
    long they were together, h; each empty or None where it was not told. condition: when the
    verdict holds, or what to do. mechanism: what happens, or why
    not. scope: how far the verdict reaches.
    """

    a: str
    b: str
    verdict: Verdict
    source: Source
    condition: str = ""
    mechanism: str = ""
    population: Population = "all"
    contact: Contact = ""
    strength: str = ""
    vehicle: str = ""
    hours: float | None = None
    how_seen: HowSeen = ""
    scope: Scope = "lumen"

    @property
    def is_general(self) -> bool:
        """True for a rule about any drug or any fluid."""
        return ANY_DRUG in (self.a, self.b) or ANY_FLUID in (self.a, self.b)

    @property
    def never_at_once(self) -> bool:
        """True where the two may not be on one lumen at the same time."""
        return self.verdict in NEVER_AT_ONCE

    @property
    def strictness(self) -> int:
        """0 for the strictest verdict."""
        return STRICTEST_FIRST.index(self.verdict)
