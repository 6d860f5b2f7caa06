"""Everything that goes into a vein in a day, source by source, as a page shows it."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from app.review.ledger.amounts import MAIN, Row, total_of
from app.review.ledger.ledger import Ledger
from app.web import show
from app.web.show import Aligned

UNITS: Final = {"water_ml": "mL", "glucose_g": "g", "energy_kcal": "kcal"}
ALSO: Final = ("calcium_mmol", "magnesium_mmol", "phosphate_mmol", "citrate_mmol", "energy_kcal")
PLACES: Final = 1
PERCENT: Final = 100
UNDER_ONE: Final = 0.01
FLUSHES: Final = "Flushes"
HOW: Final = {"written": "", "usual vehicle": "usual, not written", "at least": "at least"}
WORST: Final = tuple(HOW)


@dataclass(frozen=True, slots=True)
class LedgerCell:
    """One figure; prefix is "at least " where it is a lower bound."""

    amount: Aligned
    prefix: str = ""


@dataclass(frozen=True, slots=True)
class LedgerSource:
    """One source: its name, how it is known, what it brings, its share in words and as a bar.

    bar: its percent of the water. notes: what was taken or left out.
    """

    name: str
    how: str
    cells: tuple[LedgerCell, ...]
    share: str
    bar: int
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LedgerView:
    """The whole ledger. columns: name and unit. needs: one text a column."""

    lead: str
    columns: tuple[tuple[str, str], ...]
    sources: tuple[LedgerSource, ...]
    totals: tuple[LedgerCell, ...]
    by_weight: tuple[LedgerCell, ...]
    needs: tuple[str, ...]
    need: str
    also: str
    notes: tuple[str, ...]


def ledger_view(ledger: Ledger) -> LedgerView:
    """The ledger in words: largest sources of water first, what was not counted last."""
    sources = sorted(_sources(ledger), key=lambda pair: -pair[0])
    weight = ledger.need.weight_kg
    return LedgerView(
        lead=_lead(ledger),
        columns=tuple((show.capital(_name(column)), _unit(column)) for column in MAIN),
        sources=tuple(source for _, source in sources),
        totals=tuple(_total(ledger, column) for column in MAIN),
        by_weight=tuple(_total(ledger, column, weight) for column in MAIN) if weight else (),
        needs=tuple(_need(ledger, column) for column in MAIN) if ledger.need.by_column else (),
        need=_need_words(ledger),
        also=_also(ledger),
        notes=ledger.notes,
    )


def _lead(ledger: Ledger) -> str:
    """What nobody ordered as fluid, in one sentence; empty when there is nothing of it."""
    water, sodium = ledger.hidden_share("water_ml"), ledger.hidden_share("sodium_mmol")
    if not water:
        return ""
    parts = [f"{show.amount(ledger.hidden.water_ml, 'mL', 0)}, {_percent(water)} of the water"]
    if sodium:
        salt = show.amount(ledger.hidden.sodium_mmol, "mmol", 0)
        parts.append(f"{salt}, {_percent(sodium)} of the sodium")
    at_least = "at least " if ledger.at_least & {"water_ml", "sodium_mmol"} else ""
    return f"Drugs, their carriers and flushes bring {at_least}{', and '.join(parts)}."


def _sources(ledger: Ledger) -> Iterator[tuple[float, LedgerSource]]:
    """Each source with its water; all flushes are one."""
    groups: dict[str, list[Row]] = {}
    for row in ledger.rows:
        name = FLUSHES if row.what == "flush" and row.known == "usual vehicle" else row.source
        groups.setdefault(name, []).append(row)
    for name, rows in groups.items():
        yield total_of(rows).water_ml, _source(name, rows, ledger)


def _source(name: str, rows: list[Row], ledger: Ledger) -> LedgerSource:
    amounts = total_of(rows)
    at_least = frozenset().union(*(row.at_least for row in rows))
    worst = max((row.known for row in rows), key=WORST.index)
    total = ledger.totals.water_ml
    return LedgerSource(
        name=name if name == FLUSHES else _words(rows),
        how=HOW[worst],
        cells=tuple(_cell(amounts.of(c), unsure=c in at_least) for c in MAIN),
        share=_share(rows, ledger),
        bar=round(PERCENT * amounts.water_ml / total) if total else 0,
        notes=_notes(name, rows),
    )


def _words(rows: list[Row]) -> str:
    """An order by its fluid and what was added; an infusion as it was written."""
    added = [row.words for row in rows if row.what == "additive"]
    first = show.capital(rows[0].words)
    return f"{first} with {' and '.join(added)}" if added else first


def _notes(name: str, rows: Iterable[Row]) -> tuple[str, ...]:
    if name == FLUSHES:
        return ("usually 0.9% sodium chloride before and after each dose",)
    return tuple(dict.fromkeys(row.note for row in rows if row.note))


def _share(rows: list[Row], ledger: Ledger) -> str:
    parts = []
    for column in ("water_ml", "sodium_mmol"):
        part = sum(ledger.share(row, column) or 0.0 for row in rows)
        if part:
            parts.append(f"{_percent(part)} of the {_name(column)}")
    return ", ".join(parts)


def _percent(part: float) -> str:
    return "under 1%" if part < UNDER_ONE else f"{show.number(part * PERCENT, 0)}%"


def _cell(value: float, *, unsure: bool) -> LedgerCell:
    if unsure and not value:
        return LedgerCell(Aligned("?"))
    return LedgerCell(show.aligned(value, PLACES), "at least " if unsure else "")


def _total(ledger: Ledger, column: str, weight_kg: float | None = None) -> LedgerCell:
    value = ledger.totals.of(column) / (weight_kg or 1)
    return LedgerCell(
        show.aligned(value, PLACES), "at least " if column in ledger.at_least else ""
    )  # fmt: skip


def _need(ledger: Ledger, column: str) -> str:
    low_high = ledger.need.by_column.get(column)
    return show.span(*low_high, 0) if low_high else "–"


def _need_words(ledger: Ledger) -> str:
    need = ledger.need
    if not need.by_column:
        return need.words
    return f"Needed: the routine need of {need.words}, losses apart ({need.source})."


def _also(ledger: Ledger) -> str:
    """What else is brought, in one line."""
    parts = [
        f"{_name(column)} {show.amount(ledger.totals.of(column), _unit(column), PLACES)}"
        for column in ALSO
        if ledger.totals.of(column)
    ]
    return f"Also {', '.join(parts)}." if parts else ""


def _name(column: str) -> str:
    return column.rsplit("_", 1)[0]


def _unit(column: str) -> str:
    return UNITS.get(column, "mmol")
