"""How much: per litre, in a bag, per day at a rate, for each kilogram, against a day's need."""

from dataclasses import dataclass
from typing import Final

from app.catalogue.fluid import ML_PER_L, Fluid
from app.catalogue.source import Source
from app.chemistry.composition import Composition
from app.chemistry.substances import IONS

HOURS_PER_DAY: Final = 24.0


@dataclass(frozen=True, slots=True)
class Basis:
    """What amounts are counted over.

    litres: how much fluid that is; per_kg: the weight it is shared over (1 when it is not).
    label: for people ("in 250 mL", "per day at 100 mL/h"). is_daily: may be laid beside a need.
    """

    label: str
    litres: float
    per_kg: float = 1.0
    is_daily: bool = False


PER_LITRE: Final = Basis("per litre", 1.0)


def in_bag(size_ml: float) -> Basis:
    """Amounts in one bag of this size, mL."""
    return Basis(f"in {size_ml:g} mL", size_ml / ML_PER_L)


def per_day(rate_ml_h: float, *, weight_kg: float | None = None) -> Basis:
    """Amounts given in 24 h at this rate, mL/h; for each kilogram when a weight is given."""
    litres = rate_ml_h * HOURS_PER_DAY / ML_PER_L
    label = f"per day at {rate_ml_h:g} mL/h"
    if weight_kg is None:
        return Basis(label, litres, is_daily=True)
    return Basis(f"per kg {label}", litres, weight_kg, is_daily=True)


@dataclass(frozen=True, slots=True)
class Quantity:
    """One thing counted: its key, name, unit of amount, and the field that holds it."""

    key: str
    name: str
    unit: str
    field: str


_ION_QUANTITIES: Final = tuple(
    Quantity(ion.key, ion.name, "mmol", f"{ion.key}_mmol_l") for ion in IONS
)
_MASSES: Final = (
    Quantity("glucose", "glucose, as anhydrous", "g", "glucose_anhydrous_g_l"),
    Quantity("albumin", "albumin", "g", "albumin_g_l"),
    Quantity("gelatin", "gelatin", "g", "gelatin_g_l"),
    Quantity("starch", "hydroxyethyl starch", "g", "starch_g_l"),
    Quantity("mannitol", "mannitol", "g", "mannitol_g_l"),
)
# The order in which rows are read: ions as on a label, then what is counted in grams.
QUANTITIES: Final = (*_ION_QUANTITIES, *_MASSES)


def amount(composition: Composition, quantity: Quantity, basis: Basis) -> float | None:
    """Amount of one thing over a basis, mmol or g; None where the label does not say."""
    per_litre: float | None = getattr(composition, quantity.field)
    return None if per_litre is None else per_litre * basis.litres / basis.per_kg


@dataclass(frozen=True, slots=True)
class PackAmount:
    """One thing in a litre and in each pack: (mL, amount) pairs, None where not on the label."""

    quantity: Quantity
    per_litre: float | None
    in_packs: tuple[tuple[int, float | None], ...]


def pack_amounts(fluid: Fluid) -> tuple[PackAmount, ...]:
    """What a fluid holds, per litre and in each of its packs, in reading order; zeros left out."""
    shown = [q for q in QUANTITIES if amount(fluid.composition, q, PER_LITRE) != 0]
    return tuple(
        PackAmount(
            quantity,
            amount(fluid.composition, quantity, PER_LITRE),
            tuple(
                (size, amount(fluid.composition, quantity, in_bag(size)))
                for size in fluid.pack_sizes_ml
            ),
        )
        for quantity in shown
    )


@dataclass(frozen=True, slots=True)
class DailyNeed:
    """An adult's need of one thing in a day at a weight: low to high, in mL, mmol or g."""

    key: str
    unit: str
    low: float
    high: float


NEED_SOURCE: Final = Source(
    work="NICE CG174, Intravenous fluid therapy in adults in hospital (2013)",
    place="routine maintenance",
    seen=True,
    note="seen quoted in a journal table",
)
WATER_ML_KG: Final = (25.0, 30.0)
# "About 1 mmol/kg": shown as one figure, low equal to high.
SALT_MMOL_KG: Final = (1.0, 1.0)
GLUCOSE_G: Final = (50.0, 100.0)


def daily_needs(weight_kg: float) -> tuple[DailyNeed, ...]:
    """An adult's routine daily needs at a weight, kg (NICE CG174; not for children or losses).

    Water 25 to 30 mL/kg, sodium, potassium and chloride about 1 mmol/kg each, glucose 50 to
    100 g whatever the weight.
    """
    water = DailyNeed("water", "mL", *(each * weight_kg for each in WATER_ML_KG))
    salts = (
        DailyNeed(key, "mmol", *(each * weight_kg for each in SALT_MMOL_KG))
        for key in ("sodium", "potassium", "chloride")
    )
    return (water, *salts, DailyNeed("glucose", "g", *GLUCOSE_G))
