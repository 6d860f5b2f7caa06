"""The ledger: every source of water and salt of one patient in 24 hours, against need. Pure."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from app.catalogue.vehicles.vehicle import Vehicles
from app.patient.case import Case
from app.patient.known import NotKnown
from app.review.ledger.amounts import ALL, NONE, Amounts, Row, total_of
from app.review.ledger.drugs import Patient, carried_rows, infusion_rows
from app.review.ledger.need import Need, need_of
from app.review.ledger.orders import bags_a_day, order_rows

# What nobody ordered as a fluid: carriers, drugs' own salt, flushes.
HIDDEN: Final = ("vehicle", "drug", "flush")
WATCHED: Final = ("ICU", "theatre")
PRESSURE_LINES: Final = (
    "Pressure lines are counted only as written: each is flushed with about 3 mL/h, 72 mL and "
    "11 mmol of sodium a day (common practice, no source)."
)
ISOTONIC_CHILD: Final = (
    "Isotonic maintenance brings a child more sodium than this need on purpose, against a low "
    "sodium: too much sodium here is no reason for a hypotonic fluid."
)
ISOTONIC_FROM_MMOL_L: Final = 130.0
CHILD_FLUSHES: Final = "A child's flushes are counted only as written."
ADULT_UNKNOWN: Final = "Neither age nor setting is known, so no adult volume is taken."
ON_THE_LIST: Final = "on the drug list; nothing says how it is given, not counted"


@dataclass(frozen=True, slots=True)
class Ledger:
    """Every source, their sum, the part nobody ordered as fluid, and need.

    at_least: the columns of which something could not be counted, so that the sum is a lower bound.
    """

    rows: tuple[Row, ...]
    totals: Amounts
    hidden: Amounts
    at_least: frozenset[str]
    need: Need
    notes: tuple[str, ...] = ()

    def share(self, row: Row, column: str) -> float | None:
        """A row's part of the sum of a column, 0 to 1; None when the sum is nothing."""
        total = self.totals.of(column)
        return row.amounts.of(column) / total if total else None

    def hidden_share(self, column: str) -> float | None:
        """The part of a column that nobody ordered as fluid."""
        total = self.totals.of(column)
        return self.hidden.of(column) / total if total else None


def ledger_of(case: Case, vehicles: Vehicles) -> Ledger:
    """All that is to run in the next 24 h at the present orders.

    What has no written volume is counted by the usual vehicle of an adult, never of a child; what
    cannot be counted makes the sum "at least".
    """
    adult = _is_adult(case)
    patient = Patient(bool(adult), case.patient.weight_kg)
    rows = (*_rows(case, vehicles, patient), *_listed_rows(case, vehicles))
    return Ledger(
        rows=rows,
        totals=total_of(rows),
        hidden=total_of(row for row in rows if row.what in HIDDEN),
        at_least=frozenset().union(*(row.at_least for row in rows)),
        need=need_of(case.patient),
        notes=tuple(_notes(case, rows, adult)),
    )


def _is_adult(case: Case) -> bool | None:
    try:
        return case.patient.is_adult()
    except NotKnown:
        return None


def _rows(case: Case, vehicles: Vehicles, patient: Patient) -> Iterator[Row]:
    bags: dict[str, float] = {}
    for order in case.orders:
        bags[order.id] = bags_a_day(order, case) or 1.0
        yield from order_rows(order, case)
    for other in case.co_infusions:
        if other.carried_by:
            yield from carried_rows(other, vehicles, bags.get(other.carried_by, 1.0), patient)
        else:
            yield from infusion_rows(other, vehicles, patient)


def _listed_rows(case: Case, vehicles: Vehicles) -> Iterator[Row]:
    """Drugs on the list that only ever go into a vein, with no word of how they run."""
    running = {other.key for other in case.co_infusions}
    for vehicle in vehicles:
        if not vehicle.only_by_vein or vehicle.key in running:
            continue
        if vehicle.key in case.patient.medications:
            written = case.patient.medications.detail.get(vehicle.key, vehicle.key)
            yield Row(written, "vehicle", written, NONE, "at least", ALL, ON_THE_LIST)


def _notes(case: Case, rows: tuple[Row, ...], adult: bool | None) -> Iterator[str]:
    if adult is None:
        yield ADULT_UNKNOWN
    if case.patient.setting in WATCHED:
        yield PRESSURE_LINES
    if adult is False:
        if any(o.mix and o.mix.sodium_mmol_l >= ISOTONIC_FROM_MMOL_L for o in case.orders):
            yield ISOTONIC_CHILD
        if any(row.what == "vehicle" for row in rows):
            yield CHILD_FLUSHES
