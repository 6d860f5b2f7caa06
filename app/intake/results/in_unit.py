"""A figure in the project's unit, or why it cannot be had safely."""

from dataclasses import replace
from math import log10
from typing import Final

from app.chemistry.clinical_units import BY_SPELLING, canonical_unit, to_project_unit
from app.chemistry.errors import UnitError
from app.intake.results.figures import Doubt, Figure
from app.intake.results.names import NITROGEN, Analyte
from app.intake.vocabulary import fold

HYDROGEN_UNIT: Final = "nmol/L"
# "7.30 units": what has no unit of its own.
NO_UNIT: Final = ("unit", "units", "ph units", "pH units")
# Below it no figure is so large that it is written with a comma in it.
THOUSANDS_FROM: Final = 10_000
NANO_EXPONENT: Final = 9
MASS_UNITS: Final = frozenset({"mg/dL", "g/dL", "g/L", "mg/L"})
MOLE_UNITS: Final = frozenset({"mmol/L", "umol/L", "mEq/L"})


def in_project_unit(analyte: Analyte, figure: Figure) -> tuple[float, str]:
    """The figure in the project's unit and what was done to get there. Raises Doubt."""
    if figure.grouped and analyte.entry["possible"][1] < THOUSANDS_FROM:
        raise Doubt("not a number")
    number = -figure.number if analyte.flip else figure.number
    if analyte.unit == "1" and figure.unit in NO_UNIT:
        figure = replace(figure, unit="")
    used = HYDROGEN_UNIT if analyte.hydrogen else figure.unit or _unit_meant(analyte, number)
    value = _ph_of(figure) if analyte.hydrogen else _converted(analyte, number, used)
    low, high = analyte.entry["possible"]
    high = analyte.code.get("up_to", high) if analyte.code else high
    if not low <= value <= high:
        raise Doubt(
            f"not possible in a living patient; {low:g} to {high:g} {analyte.unit} is expected. "
            "Wrong unit or wrong figure?"
        )
    bound = _bound(analyte, figure, value)
    return value, "; ".join(filter(None, (_said(analyte, number, used, value), figure.said, bound)))


def _ph_of(figure: Figure) -> float:
    """pH from hydrogen ions in nmol/L."""
    if figure.unit not in ("", HYDROGEN_UNIT) or figure.number <= 0:
        raise Doubt(f"the unit does not fit; {HYDROGEN_UNIT} is accepted")
    return NANO_EXPONENT - log10(figure.number)


def _bound(analyte: Analyte, figure: Figure, value: float) -> str:
    """What is said of a figure known only from one side; it is used where it is off anyway."""
    if not figure.bound:
        return ""
    least_off = analyte.entry.get(f"{figure.bound}_says")
    off = least_off is not None and (
        value >= least_off if figure.bound == "over" else value <= least_off
    )
    if not off:
        shown = f"{figure.number:g} {figure.unit}".strip()
        raise Doubt(f"reported only as {figure.bound} {shown}")
    return f"reported only as {figure.bound} {figure.number:g}, taken as that"


def _said(analyte: Analyte, number: float, used: str, value: float) -> str:
    if value == number and not analyte.flip:
        return ""
    return f"{number:g} {used} read as {value:.4g} {analyte.unit}".replace("  ", " ")


def _unit_meant(analyte: Analyte, number: float) -> str:
    """The unit of a figure without one: only when no other unit in use would fit it."""
    if analyte.factors_of == NITROGEN:
        raise Doubt("no unit: mg/dL or mmol/L?")
    low, high = analyte.entry.get("expected", analyte.entry["possible"])
    units = [unit for unit in (analyte.unit, *analyte.entry.get("other_units", ()))
             if _fits_code(analyte, unit)]  # fmt: skip
    fitting = [unit for unit in units if low <= _converted(analyte, number, unit) <= high]
    # A share is written without a unit as often as with one.
    sure = analyte.code is not None or analyte.entry.get("unitless") == fitting[:1]
    if len(fitting) != 1 or (fitting[0] != analyte.unit and not sure):
        raise Doubt(f"no unit: {' or '.join(units)}?")
    return str(fitting[0])


def _converted(analyte: Analyte, number: float, unit: str) -> float:
    try:
        if not _fits_code(analyte, unit):
            assert analyte.code is not None
            raise Doubt(f"the unit {unit} contradicts its code ({analyte.code['long_name']})")
        factor = analyte.code.get("mmol_l_per_mg_dl") if analyte.code else None
        if factor and canonical_unit(unit) == "mg/dL":
            return number * float(factor)
        return to_project_unit(analyte.factors_of, number, unit)
    except UnitError as error:
        raise Doubt(f"the unit does not fit; {error.accepted} is accepted") from error


def _fits_code(analyte: Analyte, unit: str) -> bool:
    """False when the code counts moles and the unit weighs, or the other way round."""
    measured = analyte.code["property"] if analyte.code else ""
    canonical = BY_SPELLING.get(fold(unit).replace(" ", ""), unit)
    if measured == "mass":
        return canonical not in MOLE_UNITS
    return measured != "moles" or canonical not in MASS_UNITS
