"""Findings per 100 orders: by rule, by place, by stretch of the day, and over time."""

from collections import defaultdict
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Final

from app.cautions.rule import LEVELS
from app.review.replay.count import Cell, Count, Where, per_100

DAY_AT: Final = 0
SETTING_AT: Final = 1
SHIFT_AT: Final = 2
RULE_AT: Final = 3
LEVEL_AT: Final = 4


@dataclass(frozen=True, slots=True)
class Rate:
    """Rows of one kind. what: a rule, a place, a stretch or a day; orders: those it may be of."""

    what: str
    critical: int
    warning: int
    info: int
    orders: int

    @property
    def loud(self) -> int:
        """Rows at warning or above."""
        return self.critical + self.warning

    @property
    def burden(self) -> float | None:
        """Loud rows per 100 orders."""
        return per_100(self.loud, self.orders)

    def per_100(self, level: str) -> float | None:
        """Rows at a level per 100 orders."""
        rows = {"critical": self.critical, "warning": self.warning, "info": self.info}
        return per_100(rows[level], self.orders)


def by_rule(count: Count) -> tuple[Rate, ...]:
    """Each rule that spoke, against all orders; the loudest first."""
    rows = _rows(count, lambda cell: cell[RULE_AT])
    return _loudest(_rate(rule, levels, count.all_orders) for rule, levels in rows.items())


def by_setting(count: Count) -> tuple[Rate, ...]:
    """Each place against its own orders; the loudest first."""
    return _loudest(_by_place(count, SETTING_AT))


def by_shift(count: Count) -> tuple[Rate, ...]:
    """Each stretch of the day against its own orders, in the order of the words."""
    return tuple(sorted(_by_place(count, SHIFT_AT), key=lambda rate: rate.what))


def by_day(count: Count) -> tuple[Rate, ...]:
    """Each day against its own orders, oldest first. A day without orders is not there."""
    return tuple(sorted(_by_place(count, DAY_AT), key=lambda rate: rate.what))


def in_all(count: Count) -> Rate:
    """Everything together."""
    rows = _rows(count, lambda _cell: "all")
    return _rate("all", rows.get("all", {}), count.all_orders)


def only_setting(count: Count, setting: str) -> Count:
    """The part of a count that is of one place."""
    return Count(
        orders={where: n for where, n in count.orders.items() if where[SETTING_AT] == setting},
        found={cell: n for cell, n in count.found.items() if cell[SETTING_AT] == setting},
    )


def _by_place(count: Count, at: int) -> list[Rate]:
    rows = _rows(count, lambda cell: cell[at])
    orders: defaultdict[str, int] = defaultdict(int)
    for where, number in count.orders.items():
        orders[_part(where, at)] += number
    return [_rate(what, rows.get(what, {}), number) for what, number in orders.items()]


def _part(where: Where, at: int) -> str:
    return where[at]


def _rows(count: Count, what: Callable[[Cell], str]) -> dict[str, dict[str, int]]:
    rows: dict[str, dict[str, int]] = {}
    for cell, number in count.found.items():
        levels = rows.setdefault(what(cell), dict.fromkeys(LEVELS, 0))
        levels[cell[LEVEL_AT]] += number
    return rows


def _rate(what: str, levels: dict[str, int], orders: int) -> Rate:
    critical, warning, info = (levels.get(level, 0) for level in LEVELS)
    return Rate(what, critical, warning, info, orders)


def _loudest(rates: Iterable[Rate]) -> tuple[Rate, ...]:
    return tuple(sorted(rates, key=lambda rate: (-(rate.burden or 0.0), -rate.info, rate.what)))
