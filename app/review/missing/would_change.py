"""What is missing would change what: values that are not there, ranked by what they could raise.

Quiet: nothing here is asked for. What must be known before a bag is hung is a finding (asked.py).
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from app.cautions.assess import Found
from app.cautions.describe import need_text
from app.cautions.phrases import lowered
from app.cautions.rule import LEVELS, Level, Rule
from app.patient.known import Why
from app.review.missing.lack import QUIET, Lack


@dataclass(frozen=True, slots=True)
class CouldRaise:
    """A value that is missing, stale or in doubt, and what a plausible one would raise.

    raises: each rule with the worst level it could speak at, worst first. order_ids: the orders
    concerned.
    """

    need: str
    why: Why
    detail: str
    raises: tuple[tuple[Rule, Level], ...]
    order_ids: tuple[str, ...]

    @property
    def level(self) -> Level:
        """The worst it could raise."""
        return self.raises[0][1]

    @property
    def rules(self) -> tuple[Rule, ...]:
        """Those it could raise, worst first."""
        return tuple(rule for rule, _ in self.raises)

    @property
    def state(self) -> str:
        """Why it cannot be used, in a few words: "not recorded", "last sodium is 31 h old"."""
        if self.why == "missing":
            return "not recorded"
        return self.detail or ("too old" if self.why == "stale" else "in doubt")

    @property
    def sentence(self) -> str:
        """ "sodium (not recorded): could raise: a hypotonic fluid with a low sodium"."""
        would = "; ".join(lowered(rule.title) for rule in self.rules)
        return f"{need_text(self.need)} ({self.state}): could raise: {would}"


def would_change(lacks: Iterable[Lack], found: Iterable[Found]) -> tuple[CouldRaise, ...]:
    """Each value that could raise what is not said already, the one that matters most first.

    The worst level it could raise decides, then how many rules, then whether a bag is judged by
    it; a value whose every plausible answer changes nothing is left out.
    """
    said = _said(found)
    by_need: dict[str, list[Lack]] = {}
    for lack in lacks:
        if lack.rank < _said_already(lack, said):
            by_need.setdefault(lack.need, []).append(lack)
    return tuple(_could_raise(group) for group in sorted(by_need.values(), key=_weight))


def _said_already(lack: Lack, said: Mapping[tuple[str, str], int]) -> int:
    """Rank at which the same rule speaks of the same orders as it is."""
    return min((said.get((lack.rule.id, i), QUIET) for i in lack.order_ids), default=QUIET)


def _said(found: Iterable[Found]) -> dict[tuple[str, str], int]:
    said: dict[tuple[str, str], int] = {}
    for one in found:
        rank = LEVELS.index(one.finding.level)
        for order_id in one.finding.order_ids:
            key = one.rule.id, order_id
            said[key] = min(rank, said.get(key, QUIET))
    return said


def _weight(group: list[Lack]) -> tuple[int, int, bool]:
    worst = min(lack.rank for lack in group)
    rules = {lack.rule.id for lack in group if lack.rank == worst}
    return worst, -len(rules), not any(lack.judged for lack in group)


def _could_raise(group: list[Lack]) -> CouldRaise:
    worst_first = sorted(group, key=lambda lack: lack.rank)
    first = worst_first[0]
    raises: dict[str, tuple[Rule, Level]] = {}
    for lack in worst_first:
        raises.setdefault(lack.rule.id, (lack.rule, LEVELS[lack.rank]))
    ids = dict.fromkeys(i for lack in group for i in lack.order_ids)
    return CouldRaise(first.need, first.why, first.detail, tuple(raises.values()), tuple(ids))
