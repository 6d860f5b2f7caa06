"""Named quantities as people read them: "potassium_mmol_l" 5.9 is "Potassium", "5.9 mmol/L"."""

from dataclasses import dataclass
from typing import Final

from app.web import show

# Unit endings of names, longest first, so that "_mmol_kg_h" is met before "_h".
ENDINGS: Final = tuple(
    sorted(
        {
            "_mmol_l": "mmol/L", "_meq_l": "mEq/L", "_mosm_l": "mOsm/L", "_mosm_kg": "mOsm/kg",
            "_g_l": "g/L", "_umol_l": "µmol/L", "_mmol": "mmol", "_mmol_h": "mmol/h",
            "_mmol_kg_h": "mmol/kg/h", "_mmol_kg": "mmol/kg", "_mmol_kg_day": "mmol/kg/day",
            "_mmol_per_day": "mmol/day", "_ml_per_day": "mL/day", "_g_per_day": "g/day",
            "_mmol_day": "mmol/day", "_ml_day": "mL/day", "_ml_kg_day": "mL/kg/day",
            "_mmol_l_24h": "mmol/L in 24 h", "_mmol_l_h": "mmol/L each hour",
            "_mmol_l_48h": "mmol/L in 48 h",
            "_ml": "mL", "_ml_h": "mL/h", "_ml_kg_h": "mL/kg/h", "_ml_kg": "mL/kg",
            "_l": "L", "_l_day": "L/day", "_kg": "kg", "_g": "g", "_g_kg_h": "g/kg/h",
            "_mg_kg_min": "mg/kg/min", "_h": "h", "_min": "min", "_years": "y", "_days": "days",
            "_percent": "%", "_mmhg": "mmHg", "_ml_min": "mL/min/1.73 m²", "_units": "units",
        }.items(),
        key=lambda ending: -len(ending[0]),
    )
)  # fmt: skip
PLACES: Final = 2


@dataclass(frozen=True, slots=True)
class Figure:
    """One quantity with its name and unit, ready to read."""

    name: str
    value: str
    note: str = ""


def figure(key: str, value: float | str, note: str = "") -> Figure:
    """A quantity by its name in the core; text values stay as they are."""
    name, unit = name_and_unit(key)
    text = value if isinstance(value, str) else show.amount(value, unit, PLACES)
    return Figure(name, text, note)


def name_and_unit(key: str) -> tuple[str, str]:
    """What the quantity is called, and the unit its name carries (empty when none)."""
    bare, unit = bare_and_unit(key)
    return show.capital(show.name_text(bare)), unit


def bare_and_unit(key: str) -> tuple[str, str]:
    """The quantity's name in the core without its unit, and that unit as people write it."""
    for ending, unit in ENDINGS:
        if key.endswith(ending):
            return key.removesuffix(ending), unit
    return key, ""
