"""Units as laboratories and people write them, and each analyte's value in the project's unit.

Factors follow from molar masses; those of creatinine (88.4), lactate (as lactic acid), bilirubin
(17.1) and phosphate (as phosphorus) are the usual laboratory ones. From memory.
"""

from collections.abc import Mapping
from typing import Final

from app.chemistry.errors import UnitError
from app.chemistry.substances import CALCIUM, GLUCOSE_ANHYDROUS_G_MOL, MAGNESIUM

MMHG_PER_KPA: Final = 7.50062
DL_PER_L: Final = 10.0
PERCENT: Final = 100.0
LACTIC_ACID_G_MOL: Final = 90.08
HYDROXYBUTYRIC_ACID_G_MOL: Final = 104.10
PHOSPHORUS_G_MOL: Final = 30.974
# Two nitrogens of 14.007 in each urea.
UREA_NITROGEN_G_MOL: Final = 28.014
CREATININE_UMOL_L_PER_MG_DL: Final = 88.4
BILIRUBIN_UMOL_L_PER_MG_DL: Final = 17.1

# Unit -> other ways it is written, once spaces are gone and the micro signs read u. A spelling
# here counts in any mix of capitals, but for a leading capital M, which means mega.
SPELLINGS: Final[Mapping[str, tuple[str, ...]]] = {
    "mmol": ("mmole", "mmoles", "millimole", "millimoles"),
    "mEq": ("meq", "milliequivalent", "milliequivalents"),
    "g": ("gram", "grams", "gm", "gms"),
    "mg": ("milligram", "milligrams"),
    "mcg": ("ug", "microgram", "micrograms"),
    "unit": ("u", "units", "iu", "[iu]"),
    "mL": ("cc", "millilitre", "millilitres", "milliliter", "milliliters"),
    "L": ("litre", "litres", "liter", "liters", "ltr"),
    "min": ("mins", "minute", "minutes"),
    "h": ("hr", "hrs", "hour", "hours"),
    "day": ("d", "days"),
    "mL/h": ("ml/hr", "ml/hour", "mlperhour", "mlperhr", "mlhr", "cc/h", "cc/hr"),
    "mL/min": (),
    "mL/day": ("ml/d", "ml/24h"),
    "L/h": ("l/hr", "l/hour"),
    "mL/kg": (),
    "mL/kg/h": ("ml/kg/hr", "ml/kg/hour"),
    "mmol/h": ("mmol/hr", "mmol/hour"),
    "mmol/L": ("mmol/litre", "mmolperlitre"),
    "mEq/L": ("meq/litre", "meqperlitre"),
    "umol/L": ("micromol/l", "mcmol/l", "umol/litre"),
    "mg/dL": ("mg%", "mg/100ml"),
    "mg/L": (),
    "g/dL": ("gm/dl", "g%", "g/100ml"),
    "g/L": (),
    "U/L": ("iu/l", "[iu]/l", "units/l"),
    "mmHg": ("mm[hg]", "torr"),
    "kPa": (),
    "mosm/kg": ("mosmol/kg", "mosm/kgh2o", "mosmol/kgh2o", "mosm/kg{h2o}"),
    "mmol/kg": (),
    "%": ("percent",),
    "L/L": ("{fraction}",),
    "1": ("[ph]", "ph", "{inr}", "ratio", "{ratio}"),
    "mL/min/1.73 m2": (
        *("ml/min/1.73m2", "ml/min/1.73m²", "ml/min/{1.73_m2}", "ml/min/{1.73m2}"),
        *("ml/min/1.73m^2", "ml/min/1.73", "ml/min/1.73sqm", "ml/min/1.73/m2"),
    ),
    "10*9/L": ("10^9/l", "x10^9/l", "×10^9/l", "10*3/ul", "10^3/ul", "k/ul"),
    "kg": ("kgs", "kilogram", "kilograms"),
    "lb": ("lbs", "[lb_av]", "pound", "pounds"),
    "cm": (),
    "m": ("metre", "metres"),
    "in": ("[in_i]", "inch", "inches"),
    "Cel": ("degc", "celsius"),
}
BY_SPELLING: Final = {
    spelling: unit
    for unit, others in SPELLINGS.items()
    for spelling in (unit.lower().replace(" ", ""), *others)
}

_MONOVALENT: Final = {"mmol/L": 1.0, "mEq/L": 1.0}
_CALCIUM: Final = {
    "mmol/L": 1.0,
    "mEq/L": 1 / (CALCIUM.charge or 1),
    "mg/dL": DL_PER_L / CALCIUM.molar_mass_g_mol,
}
_MASS: Final = {"g/L": 1.0, "g/dL": DL_PER_L}
_PRESSURE: Final = {"mmHg": 1.0, "kPa": MMHG_PER_KPA}
_OSMOLALITY: Final = {"mosm/kg": 1.0, "mmol/kg": 1.0}

# Analyte -> unit -> what one of that unit is in the project's unit, which comes first.
FACTORS: Final[Mapping[str, Mapping[str, float]]] = {
    "sodium": _MONOVALENT,
    "potassium": _MONOVALENT,
    "chloride": _MONOVALENT,
    "bicarbonate": _MONOVALENT,
    "total_co2": _MONOVALENT,
    "base_excess": _MONOVALENT,
    "lithium": _MONOVALENT,
    "anion_gap": _MONOVALENT,
    "urine_sodium": _MONOVALENT,
    "urine_potassium": _MONOVALENT,
    "urine_chloride": _MONOVALENT,
    "calcium_total": _CALCIUM,
    "calcium_ionised": _CALCIUM,
    "magnesium": {
        "mmol/L": 1.0,
        "mEq/L": 1 / (MAGNESIUM.charge or 1),
        "mg/dL": DL_PER_L / MAGNESIUM.molar_mass_g_mol,
    },
    "phosphate": {"mmol/L": 1.0, "mg/dL": DL_PER_L / PHOSPHORUS_G_MOL},
    "glucose": {"mmol/L": 1.0, "mg/dL": DL_PER_L / GLUCOSE_ANHYDROUS_G_MOL},
    "lactate": {"mmol/L": 1.0, "mEq/L": 1.0, "mg/dL": DL_PER_L / LACTIC_ACID_G_MOL},
    "ketones": {"mmol/L": 1.0, "mg/dL": DL_PER_L / HYDROXYBUTYRIC_ACID_G_MOL},
    # mg/dL of "urea" may be urea or its nitrogen, which differ by half: only the named one is read.
    "urea": {"mmol/L": 1.0},
    "urea_nitrogen": {"mmol/L": 1.0, "mg/dL": DL_PER_L / UREA_NITROGEN_G_MOL},
    "creatinine": {
        "umol/L": 1.0,
        "mmol/L": 1000.0,
        "mg/dL": CREATININE_UMOL_L_PER_MG_DL,
        "mg/L": CREATININE_UMOL_L_PER_MG_DL / DL_PER_L,
    },
    "bilirubin": {"umol/L": 1.0, "mg/dL": BILIRUBIN_UMOL_L_PER_MG_DL},
    "egfr": {"mL/min/1.73 m2": 1.0, "mL/min": 1.0},
    "albumin": _MASS,
    "total_protein": _MASS,
    "haemoglobin": _MASS,
    "haematocrit": {"%": 1.0, "L/L": PERCENT, "1": PERCENT},
    "pco2": _PRESSURE,
    "po2": _PRESSURE,
    "ph": {"1": 1.0},
    "inr": {"1": 1.0},
    "osmolality": _OSMOLALITY,
    "urine_osmolality": _OSMOLALITY,
    "creatine_kinase": {"U/L": 1.0},
    "alanine_aminotransferase": {"U/L": 1.0},
    "platelets": {"10*9/L": 1.0},
    "weight": {"kg": 1.0, "g": 0.001, "lb": 0.45359237},
    "urine_output": {"mL/h": 1.0, "mL/day": 1 / 24, "mL/min": 60.0, "L/h": 1000.0},
    "temperature": {"Cel": 1.0},
    "height": {"cm": 1.0, "m": 100.0, "in": 2.54},
}
REFUSED_BECAUSE: Final = {
    ("phosphate", "mEq/L"): "mmol/L or mg/dL: phosphate has no fixed charge, so no fixed mEq",
    ("urea", "mg/dL"): "mmol/L, or urea nitrogen in mg/dL when named so: urea and its nitrogen "
    "differ by half",
}


def project_unit(analyte: str) -> str:
    """The one unit in which the project keeps an analyte. Raises UnitError for an unknown one."""
    return next(iter(_factors(analyte)))


def canonical_unit(written: str) -> str:
    """The unit a spelling means ("ml/hr" is "mL/h"). Raises UnitError for one not in the table.

    A leading capital M (MG/DL, MEQ/L, ML/H) means mega in UCUM, so it is refused, never guessed.
    """
    folded = "".join(written.split()).replace("µ", "u").replace("μ", "u")
    unit = BY_SPELLING.get(folded.lower())
    if unit is None:
        raise UnitError("unit", repr(written), ", ".join(SPELLINGS))
    if folded.startswith("M"):
        raise UnitError("unit", repr(written), f"{unit} (a capital M means mega)")
    return unit


def to_project_unit(analyte: str, value: float, unit: str) -> float:
    """A result in the project's unit (mmol/L for most; see FACTORS).

    analyte: the project's name ("calcium_ionised"). unit: as written. A result that has no unit
    of its own (pH, INR) may come with an empty unit. Raises UnitError for an analyte or unit that
    is not known, and for a unit that does not fit the analyte.
    """
    factors = _factors(analyte)
    dimensionless = project_unit(analyte) == "1"
    canonical = "1" if dimensionless and not unit.strip() else canonical_unit(unit)
    if canonical not in factors:
        accepted = REFUSED_BECAUSE.get((analyte, canonical), " or ".join(factors))
        raise UnitError(analyte, canonical, accepted)
    return value * factors[canonical]


def _factors(analyte: str) -> Mapping[str, float]:
    if analyte not in FACTORS:
        raise UnitError("result", analyte, ", ".join(FACTORS))
    return FACTORS[analyte]
