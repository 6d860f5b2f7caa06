"""What orders bring in a day, beside what the body needs."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from app.patient.known import NotKnown
from app.patient.snapshot import Snapshot
from app.physiology.maintenance import AdultNeed, adult_need
from app.web import show
from app.web.show import Aligned

DAILY: Final = (
    ("water_ml_per_day", "Water", "mL"),
    ("sodium_mmol_per_day", "Sodium", "mmol"),
    ("potassium_mmol_per_day", "Potassium", "mmol"),
    ("chloride_mmol_per_day", "Chloride", "mmol"),
    ("glucose_g_per_day", "Glucose", "g"),
)
HOURLY_PLACES: Final = 2
NEED_SOURCE: Final = "NICE CG174, 2013, as quoted in a journal table"
FRAIL: Final = ("frailty", "kidney_disease", "heart_failure")


@dataclass(frozen=True, slots=True)
class LoadRow:
    """One load a day, by itself, by weight, and what is needed."""

    name: str
    unit: str
    amount: Aligned
    by_weight: Aligned
    need: str


@dataclass(frozen=True, slots=True)
class LoadsView:
    """Loads of one order or of all. note: whose need it is, or why none is shown."""

    rows: tuple[LoadRow, ...]
    potassium_each_hour: str
    glucose_each_minute: str
    note: str


def loads_view(loads: Mapping[str, float | None], patient: Snapshot) -> LoadsView:
    """Loads as rows; a need is shown for an adult of known weight only."""
    weight = patient.weight_kg
    adult = _is_adult(patient)
    frail = patient.conditions.any_of(*FRAIL)
    needs = _needs(adult_need(weight, frail=frail)) if weight and adult else {}
    rows = []
    for key, name, unit in DAILY:
        load = loads.get(key)
        need = needs.get(key)
        rows.append(
            LoadRow(
                name=name,
                unit=unit,
                amount=show.aligned(load, 0),
                by_weight=_by_weight(load, weight),
                need=show.span(*need, 0) if need else "",
            )
        )
    return LoadsView(
        rows=tuple(rows),
        potassium_each_hour=show.amount(loads.get("potassium_mmol_h"), "mmol/h", HOURLY_PLACES),
        glucose_each_minute=show.amount(loads.get("glucose_mg_kg_min"), "mg/kg/min", HOURLY_PLACES),
        note=_note(weight, adult=adult),
    )


def _by_weight(load: float | None, weight: float | None) -> Aligned:
    """Per kg; a dash where weight or load is not known, which the note says."""
    return Aligned("–") if load is None or not weight else show.aligned(load / weight)


def _needs(need: AdultNeed) -> dict[str, tuple[float, float]]:
    return {
        "water_ml_per_day": (need.water_low_ml, need.water_high_ml),
        "sodium_mmol_per_day": (need.sodium_mmol, need.sodium_mmol),
        "potassium_mmol_per_day": (need.potassium_mmol, need.potassium_mmol),
        "chloride_mmol_per_day": (need.chloride_mmol, need.chloride_mmol),
        "glucose_g_per_day": (need.glucose_low_g, need.glucose_high_g),
    }


def _is_adult(patient: Snapshot) -> bool | None:
    try:
        return patient.is_adult()
    except NotKnown:
        return None


def _note(weight: float | None, *, adult: bool | None) -> str:
    if adult is None:
        return "No need is shown: neither age nor setting is known."
    if not adult:
        return "No need is shown: these figures are for adults; see the findings for a child."
    if weight is None:
        return "No need is shown: no weight is known."
    return f"Need: an adult's maintenance at {show.number(weight, 1)} kg ({NEED_SOURCE})."
