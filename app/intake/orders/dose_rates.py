"""A rate written as so much of what is in the bag: "10 mmol/h" of 20 mmol in 100 mL."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from app.catalogue.fluid import ML_PER_L
from app.intake.fluids import FluidReading
from app.intake.orders.quantities import UNITS
from app.intake.orders.settle import complete
from app.intake.rates import Flow
from app.intake.request import Reader, read_number
from app.intake.vocabulary import fold

COUNTED: Final = ("mmol", "mEq")


def with_dose_rate(flow: Flow, reading: FluidReading, reader: Reader) -> Flow:
    """The flow with the rate that gives the dose; asked about where the bag does not say."""
    if flow.rate_ml_h is not None or not flow.dose_rates:
        return flow
    number, written = flow.dose_rates[0]
    unit = UNITS.get(written, written)
    held = [per_ml for held_unit, per_ml in _held(flow, reading, reader) if held_unit == unit]
    if len(flow.dose_rates) == len(held) == 1 and held[0]:
        return complete(replace(flow, rate_ml_h=number / held[0], duration_h=None))
    ask = f"{number:g} {written}/h is written: at how many mL/h does it run?"
    return replace(flow, wants=(*flow.wants, ask))


def _held(flow: Flow, reading: FluidReading, reader: Reader) -> list[tuple[str, float]]:
    """What is in each mL: unit and amount, of all that was added, or else of a premixed bag."""
    added = [*_named(flow, reading), *_listed(flow, reader)]
    if added or reading.fluid is None:
        return added
    potassium_mmol_l = reading.fluid.composition.potassium_mmol_l
    return [(unit, potassium_mmol_l / ML_PER_L) for unit in COUNTED]


def _named(flow: Flow, reading: FluidReading) -> Iterator[tuple[str, float]]:
    for dose in reading.doses:
        if dose.quantity and dose.quantity.per_litre:
            yield dose.quantity.unit, dose.quantity.number / ML_PER_L
        elif dose.quantity and flow.volume_ml:
            yield dose.quantity.unit, dose.quantity.number / flow.volume_ml


def _listed(flow: Flow, reader: Reader) -> Iterator[tuple[str, float]]:
    for listed in reader.readers("additives"):
        amount, unit = read_number(listed.raw("amount"), {}), listed.raw("unit")
        if amount is not None and isinstance(unit, str) and flow.volume_ml:
            yield UNITS.get(fold(unit), unit), amount / flow.volume_ml
