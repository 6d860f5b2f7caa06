"""The fluids of the trials: of which kind each is, and how much of one is how large a dose."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final, Literal

from app.catalogue.catalogue import Catalogue
from app.catalogue.entry import composition_of
from app.chemistry.composition import Composition

FluidKind = Literal[
    "saline", "balanced", "hypotonic", "dextrose", "hypertonic", "lactate", "bicarbonate",
    "potassium", "mannitol", "albumin", "strong_albumin", "colloid",
]  # fmt: skip
KIND_NAMES: Final[Mapping[FluidKind, str]] = {
    "saline": "0.9% sodium chloride", "balanced": "balanced fluids",
    "hypotonic": "half-strength saline and weaker", "dextrose": "dextrose in water",
    "hypertonic": "strong sodium chloride", "lactate": "strong sodium lactate",
    "bicarbonate": "sodium bicarbonate", "potassium": "potassium concentrates",
    "mannitol": "mannitol", "albumin": "albumin 4 to 5%", "strong_albumin": "albumin 20%",
    "colloid": "starch and gelatin",
}  # fmt: skip
# Doses up to each of these are alike, in the kind's own unit; larger than the last is a band too.
# Chosen so that a trial's dose stands for half to double of it; no source.
BANDS: Final[Mapping[FluidKind, tuple[float, ...]]] = {
    "saline": (15.0, 40.0, 80.0),
    "balanced": (15.0, 40.0, 80.0),
    "hypotonic": (15.0, 40.0),
    "dextrose": (15.0, 40.0),
    "hypertonic": (2.0, 4.5, 9.0),
    "lactate": (3.0,),
    "bicarbonate": (3.0,),
    "potassium": (25.0, 50.0),
    "mannitol": (1.0,),
    "albumin": (5.0, 20.0),
    "strong_albumin": (1.5, 6.0),
    "colloid": (5.0, 20.0),
}
UNITS: Final[Mapping[FluidKind, str]] = {kind: "mL/kg" for kind in KIND_NAMES} | {
    "hypertonic": "mmol/kg of sodium", "lactate": "mmol/kg", "bicarbonate": "mmol/kg",
    "potassium": "mmol", "mannitol": "g/kg",
}  # fmt: skip
# Where a kind begins, mmol/L: none of the trials' fluids is near a line.
POTASSIUM_FROM: Final = 100.0
BASE_FROM: Final = 100.0
STRONG_ALBUMIN_FROM_G_L: Final = 100.0
# Stronger sugar draws water out of cells first: no trial here is like it.
GLUCOSE_MOST_G_L: Final = 50.0
HYPERTONIC_FROM: Final = 200.0
ISOTONIC_FROM: Final = 125.0


@dataclass(frozen=True, slots=True)
class TrialFluid:
    """A fluid that a trial gave."""

    name: str
    composition: Composition


def trial_fluids_from(tables: Mapping[str, Any], catalogue: Catalogue) -> dict[str, TrialFluid]:
    """Every fluid of the table by its id there. Raises KeyError for one that nobody knows."""
    found: dict[str, TrialFluid] = {}
    for key, fluid_id in tables["catalogue"].items():
        fluid = catalogue.get(fluid_id)
        if fluid is None:
            raise KeyError(fluid_id)
        found[key] = TrialFluid(fluid.name, fluid.composition)
    for key, entry in tables["made"].items():
        found[key] = TrialFluid(entry["name"], composition_of(entry))
    return found


def kind_of(fluid: Composition) -> FluidKind | None:
    """The kind of trial that stands for this fluid; None where no trial gave one like it."""
    if fluid.potassium_mmol_l >= POTASSIUM_FROM:
        return "potassium"
    if fluid.bicarbonate_mmol_l >= BASE_FROM:
        return "bicarbonate"
    if (fluid.ion_mmol_l("lactate") or 0.0) >= BASE_FROM:
        return "lactate"
    if fluid.mannitol_g_l:
        return "mannitol"
    if fluid.albumin_g_l:
        return "strong_albumin" if fluid.albumin_g_l >= STRONG_ALBUMIN_FROM_G_L else "albumin"
    if fluid.starch_g_l or fluid.gelatin_g_l:
        return "colloid"
    return _crystalloid_kind(fluid)


def _crystalloid_kind(fluid: Composition) -> FluidKind | None:
    """Glucose beside salt counts for nothing in a weak fluid; in a full one no trial is like it."""
    if fluid.sodium_mmol_l >= HYPERTONIC_FROM:
        return "hypertonic"
    if fluid.glucose_anhydrous_g_l > GLUCOSE_MOST_G_L:
        return None
    if fluid.sodium_mmol_l < ISOTONIC_FROM:
        if fluid.sodium_mmol_l:
            return "hypotonic"
        return "dextrose" if fluid.glucose_g_l else None
    if fluid.glucose_g_l:
        return None
    return "balanced" if fluid.strong_ion_difference_meq_l else "saline"


def dose_of(fluid: Composition, kind: FluidKind, *, volume_l: float, weight_kg: float) -> float:
    """How much was given, in the unit of the kind (UNITS)."""
    per_litre = {
        "hypertonic": fluid.sodium_mmol_l,
        "lactate": fluid.sodium_mmol_l,
        "potassium": fluid.potassium_mmol_l * weight_kg,
        "bicarbonate": fluid.bicarbonate_mmol_l,
        "mannitol": fluid.mannitol_g_l,
    }.get(kind, 1000.0)
    return per_litre * volume_l / weight_kg


def band_of(kind: FluidKind, dose: float) -> int:
    """The band of doses that a dose lies in: 0 is the smallest."""
    return sum(dose > edge for edge in BANDS[kind])


def band_text(kind: FluidKind, band: int) -> str:
    """The band in words: "15 to 40 mL/kg"."""
    edges, unit = BANDS[kind], UNITS[kind]
    if band == 0:
        return f"up to {edges[0]:g} {unit}"
    if band == len(edges):
        return f"above {edges[-1]:g} {unit}"
    return f"{edges[band - 1]:g} to {edges[band]:g} {unit}"
