"""What runs beside the orders brings: carriers, the drugs themselves, blood, nutrition, flushes."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from app.catalogue.fluid import Fluid
from app.catalogue.vehicles.vehicle import Vehicle, Vehicles
from app.chemistry.composition import Composition
from app.patient.order import CoInfusion
from app.review.ledger.amounts import (
    ALL,
    COLUMNS,
    IONS,
    NONE,
    Amounts,
    Known,
    Row,
    What,
    amounts_of,
    dissolved,
    not_labelled,
)
from app.review.ledger.giving import Giving, giving_of, is_a_fluid, runs_all_day

ML_PER_L: Final = 1000.0
ELECTROLYTES: Final = frozenset({"potassium", "calcium", "magnesium", "phosphate", "bicarbonate"})
FLUSHES: Final = re.compile(r"flush|arterial|transducer|pressure (?:line|bag)", re.IGNORECASE)
DRY: Final = ALL - {"water_ml"}


@dataclass(frozen=True, slots=True)
class Patient:
    """What the ledger needs of the patient: adult volumes and doses hold for an adult only."""

    adult: bool
    weight_kg: float | None


def infusion_rows(other: CoInfusion, vehicles: Vehicles, patient: Patient) -> Iterator[Row]:
    """One infusion that runs by itself: what carries it, what it is, and its flush."""
    usual = vehicles.get(other.key)
    giving = giving_of(other, usual, adult=patient.adult)
    yield _carrier_row(other, usual, giving, patient)
    if giving.day_ml is not None or usual is not None or other.brings is not None:
        yield from drug_rows(other, usual, giving, patient)
    if vehicles.flush and usual and usual.flush_ml and giving.doses and patient.adult:
        ml = giving.doses * usual.flush_ml
        note = f"usually {usual.flush_ml:g} mL of {vehicles.flush.name} with each dose"
        amounts = amounts_of(vehicles.flush.composition, ml)
        yield Row(other.name, "flush", f"flush for {other.name}", amounts, "usual vehicle",
                  note=note)  # fmt: skip


def carried_rows(
    other: CoInfusion, vehicles: Vehicles, bags: float, patient: Patient
) -> Iterator[Row]:
    """A drug in an order's bag: its carrier is the order, only what it itself holds is added."""
    yield from drug_rows(other, vehicles.get(other.key), Giving(None, bags), patient)


def drug_rows(
    other: CoInfusion, usual: Vehicle | None, giving: Giving, patient: Patient
) -> Iterator[Row]:
    """What the drug itself holds, when it is known to hold anything or not known at all."""
    if other.kind == "blood" or is_a_fluid(other):
        return
    if other.kind == "nutrition":
        yield from _nutrition_rows(other, giving)
        return
    if other.brings is not None:
        amounts = dissolved(other.brings, giving.times)
        yield Row(other.name, "drug", other.name, amounts, _known(giving, usual=giving.usual_times),
                  DRY if giving.more_may_come else frozenset())  # fmt: skip
        return
    yield from _own_salt(other, usual, giving, patient)


def _own_salt(
    other: CoInfusion, usual: Vehicle | None, giving: Giving, patient: Patient
) -> Iterator[Row]:
    """The sodium and potassium of a drug's own salt."""
    if not other.contents.isdisjoint(ELECTROLYTES):
        yield _uncounted(other, IONS, "no amount is written, not counted")
    elif usual is not None:
        if usual.sodium_mmol_per_g or usual.potassium_mmol_per_g:
            yield _salt_row(other, usual, giving, patient)
    elif other.key:
        salts = frozenset({"sodium_mmol", "potassium_mmol"})
        yield _uncounted(other, salts, "its own sodium is not known")


def _uncounted(other: CoInfusion, columns: frozenset[str], note: str) -> Row:
    return Row(other.name, "drug", other.name, NONE, "at least", columns, note)


def _salt_row(other: CoInfusion, usual: Vehicle, giving: Giving, patient: Patient) -> Row:
    written = other.schedule.grams(patient.weight_kg)
    grams = written if written is not None else usual.dose_g if patient.adult else None
    if grams is None or not giving.times:
        note = "no dose is written, its own sodium is not counted"
        return _uncounted(other, _salts_of(usual), note)
    g_a_day = grams * giving.times
    amounts = Amounts(
        sodium_mmol=usual.sodium_mmol_per_g * g_a_day,
        potassium_mmol=usual.potassium_mmol_per_g * g_a_day,
    )
    known = _known(giving, usual=written is None or giving.usual_times)
    more = _salts_of(usual) if giving.more_may_come else frozenset()
    note = f"{usual.sodium_mmol_per_g:g} mmol of sodium in each gram, {g_a_day:g} g a day"
    return Row(other.name, "drug", other.name, amounts, known, more, note)


def _salts_of(usual: Vehicle) -> frozenset[str]:
    held = {"sodium_mmol": usual.sodium_mmol_per_g, "potassium_mmol": usual.potassium_mmol_per_g}
    return frozenset(name for name, value in held.items() if value)


def _nutrition_rows(other: CoInfusion, giving: Giving) -> Iterator[Row]:
    held = dissolved(other.brings or Composition(), giving.times or 1.0)
    unsaid = frozenset(name for name in COLUMNS if not held.of(name)) - {"water_ml"}
    note = "what its words do not state is not counted"
    yield Row(other.name, "nutrition", other.name, held, "at least", unsaid, note)


def _carrier_row(other: CoInfusion, usual: Vehicle | None, giving: Giving, patient: Patient) -> Row:
    what = _what(other)
    if giving.day_ml is None:
        note = why_no_volume(other, usual, patient)
        return Row(other.name, what, other.name, NONE, "at least", ALL, note)
    ml = giving.day_ml
    carrier = Carrier.of(other, usual)
    amounts, unsaid = carrier.bring(ml)
    if other.kind == "nutrition":
        unsaid = frozenset()
    if giving.more_may_come:
        unsaid = ALL
    guessed = giving.is_usual or carrier.is_usual
    known = _known(giving, usual=guessed) if not unsaid else "at least"
    return Row(other.name, what, other.name, amounts, known, unsaid,
               _note(usual, giving, carrier, unsaid))  # fmt: skip


@dataclass(frozen=True, slots=True)
class Carrier:
    """What a litre of the carrier holds. composition None: not known."""

    composition: Composition | None
    kcal_l: float | None = None
    is_usual: bool = False
    name: str = ""
    unknown: frozenset[str] = frozenset()

    @staticmethod
    def of(other: CoInfusion, usual: Vehicle | None) -> "Carrier":
        """The fluid that is written, or else the usual one."""
        if other.diluent is not None:
            return Carrier._fluid(other.diluent, is_usual=False)
        if usual is None or usual.carrier_varies:
            return Carrier(None)
        if usual.fluid is not None:
            return Carrier._fluid(usual.fluid, is_usual=True)
        unknown = frozenset(
            name for name in COLUMNS if name.rsplit("_", 1)[0] in usual.unknown
        )  # fmt: skip
        kcal_l = usual.energy_kcal_ml * ML_PER_L or None
        return Carrier(usual.holds, kcal_l, unknown=unknown)

    @staticmethod
    def _fluid(fluid: Fluid, *, is_usual: bool) -> "Carrier":
        unknown = not_labelled(fluid.composition)
        return Carrier(fluid.composition, fluid.energy_kcal_l, is_usual, fluid.name, unknown)

    def bring(self, ml: float) -> tuple[Amounts, frozenset[str]]:
        """What so many mL bring, and which columns are not known."""
        if self.composition is None:
            return Amounts(ml), DRY - {"potassium_mmol"}
        return amounts_of(self.composition, ml, self.kcal_l), self.unknown


def _what(other: CoInfusion) -> What:
    if other.kind != "drug":
        return other.kind
    if FLUSHES.search(other.name):
        return "flush"
    return "fluid" if is_a_fluid(other) else "vehicle"


def _known(giving: Giving, *, usual: bool) -> Known:
    if giving.more_may_come:
        return "at least"
    return "usual vehicle" if usual else "written"


def why_no_volume(other: CoInfusion, usual: Vehicle | None, patient: Patient) -> str:
    """Why no volume of an infusion can be told."""
    if not other.key:
        return "not understood, not counted"
    if runs_all_day(other, usual):
        return "no rate in mL/h is written, not counted"
    if usual is not None and usual.volume_ml is not None and not patient.adult:
        return "adult volume, not counted"
    return "no volume is written, not counted"


def _note(usual: Vehicle | None, giving: Giving, carrier: Carrier, unsaid: frozenset[str]) -> str:
    parts = []
    if giving.usual_times and usual is not None:
        parts.append(f"usually {usual.doses_per_day:g} a day")
    if giving.usual_volume and usual is not None:
        parts.append(f"usually {_volume(usual)}")
    if carrier.is_usual:
        parts.append(f"usually in {carrier.name}")
    if carrier.composition is None and unsaid:
        parts.append("the fluid that carries it is not written")
    if carrier.unknown == {"chloride_mmol"}:
        parts.append("its label gives no chloride")
    if giving.more_may_come:
        parts.append("how often is not written, one is counted")
    return "; ".join(parts)


def _volume(usual: Vehicle) -> str:
    each = f"{usual.volume_ml:g} mL each"
    low, high = usual.volume_range_ml or (0.0, 0.0)
    return each if low == high else f"{each} (from {low:g} to {high:g})"
