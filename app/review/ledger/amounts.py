"""Amounts in 24 hours, and one row of the ledger."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, fields
from operator import attrgetter
from typing import Final, Literal

from app.catalogue.fluid import ML_PER_L
from app.chemistry.composition import Composition

# Glucose without water of crystallisation; European labels count 4 kcal/g (from memory).
KCAL_PER_G_GLUCOSE: Final = 4.0


@dataclass(frozen=True, slots=True)
class Amounts:
    """What is brought in 24 h: mL, mmol, g of anhydrous glucose, kcal."""

    water_ml: float = 0.0
    sodium_mmol: float = 0.0
    potassium_mmol: float = 0.0
    chloride_mmol: float = 0.0
    glucose_g: float = 0.0
    calcium_mmol: float = 0.0
    magnesium_mmol: float = 0.0
    phosphate_mmol: float = 0.0
    citrate_mmol: float = 0.0
    energy_kcal: float = 0.0

    def of(self, column: str) -> float:
        """One of them by its name."""
        value: float = getattr(self, column)
        return value

    def times(self, factor: float) -> "Amounts":
        """All of them times a factor."""
        return Amounts(*(value * factor for value in self.values))

    @property
    def values(self) -> tuple[float, ...]:
        """All of them, in the order of the columns."""
        return _values(self)


COLUMNS: Final = tuple(field.name for field in fields(Amounts))
_values: Final[Callable[[Amounts], tuple[float, ...]]] = attrgetter(*COLUMNS)
IONS: Final = frozenset(name for name in COLUMNS if name.endswith("_mmol"))
MAIN: Final = ("water_ml", "sodium_mmol", "potassium_mmol", "chloride_mmol", "glucose_g")
ALL: Final = frozenset(COLUMNS)
NONE: Final = Amounts()
What = Literal["fluid", "additive", "vehicle", "drug", "blood", "nutrition", "flush"]
Known = Literal["written", "usual vehicle", "at least"]


@dataclass(frozen=True, slots=True)
class Row:
    """One source: an order's id or an infusion's name, which part of it, and what it brings.

    known: "written" as the request says; "usual vehicle" where an adult's usual carrier, dose or
    times were taken; "at least" where something of it could not be counted. at_least: the columns
    that are lower bounds. note: what was taken or left out, in words.
    """

    source: str
    what: What
    words: str
    amounts: Amounts
    known: Known = "written"
    at_least: frozenset[str] = frozenset()
    note: str = ""


def amounts_of(composition: Composition, ml: float, kcal_l: float | None = None) -> Amounts:
    """A volume of a solution, mL. Energy by its label, or else by its glucose."""
    litres = ml / ML_PER_L
    glucose_g = composition.glucose_anhydrous_g_l * litres
    return Amounts(
        water_ml=ml,
        sodium_mmol=composition.sodium_mmol_l * litres,
        potassium_mmol=composition.potassium_mmol_l * litres,
        chloride_mmol=(composition.chloride_mmol_l or 0.0) * litres,
        glucose_g=glucose_g,
        calcium_mmol=composition.calcium_mmol_l * litres,
        magnesium_mmol=composition.magnesium_mmol_l * litres,
        phosphate_mmol=composition.phosphate_mmol_l * litres,
        citrate_mmol=composition.citrate_mmol_l * litres,
        energy_kcal=KCAL_PER_G_GLUCOSE * glucose_g if kcal_l is None else kcal_l * litres,
    )


def not_labelled(composition: Composition) -> frozenset[str]:
    """The columns of which its label gives no figure."""
    return frozenset() if composition.chloride_mmol_l is not None else frozenset({"chloride_mmol"})


def dissolved(composition: Composition, times: float) -> Amounts:
    """What is held in total, without water, taken so many times."""
    held = amounts_of(composition, ML_PER_L).times(times)
    return Amounts(0.0, *held.values[1:])


def total_of(rows: Iterable[Row]) -> Amounts:
    """The sum of rows."""
    listed = [row.amounts.values for row in rows]
    return Amounts(*(sum(column) for column in zip(*listed, strict=True))) if listed else NONE


def smallest(many: Iterable[Amounts]) -> Amounts:
    """In each column the smallest of several: what is brought at the least."""
    return Amounts(*(min(column) for column in zip(*(each.values for each in many), strict=True)))
