"""The fields of the form "What will it do?": numbers with what is accepted, choices and ticks."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final, Literal

from app.web.comparison.asked import Bounds

Sex = Literal["female", "male"]
SEXES: Final[tuple[Sex, ...]] = ("female", "male")
HORIZONS_H: Final = ("4", "8", "12", "24")
USUAL_HORIZON: Final = "24"
# Since when sodium has been as it is; empty: as recorded, or longer or not known.
ACUTE, LONGER = "acute", "longer"
ONSETS: Final = (ACUTE, LONGER)
# Whether what else runs is counted, and whether breathing answers; empty: the first.
COUNTED, LEFT_OUT = "counted", "left-out"
RESPONDS: Final = "responds"
CHOICES: Final[Mapping[str, tuple[str, tuple[str, ...]]]] = MappingProxyType(
    {
        "horizon": ("Look ahead", HORIZONS_H),
        "sex": ("Sex", SEXES),
        "onset": ("Low or high sodium for", ONSETS),
        "others": ("What else runs", (COUNTED, LEFT_OUT)),
        "breathing": ("Breathing", ("as-now", RESPONDS)),
    }
)
# Wide enough for a newborn's syringe and for theatre; common practice, no source.
BAG_NUMBERS: Final[Mapping[str, Bounds]] = MappingProxyType(
    {
        "potassium": Bounds("Potassium chloride in A", "mmol", 0, 200),
        "potassium_b": Bounds("Potassium chloride in B", "mmol", 0, 200),
        "volume": Bounds("Volume", "mL", 1, 10000),
        "minutes": Bounds("Over", "minutes", 1, 2880),
        "rate": Bounds("Rate", "mL/h", 0.1, 6000),
        "potassium_then": Bounds("Potassium chloride in what follows", "mmol", 0, 200),
        "volume_then": Bounds("Volume of what follows", "mL", 1, 10000),
        "minutes_then": Bounds("What follows, over", "minutes", 1, 2880),
    }
)
LOSS_NUMBERS: Final[Mapping[str, Bounds]] = MappingProxyType(
    {
        "urine": Bounds("Urine", "mL/h", 0, 1500),
        "urine_sodium": Bounds("Urine sodium", "mmol/L", 0, 300),
        "urine_potassium": Bounds("Urine potassium", "mmol/L", 0, 200),
        "gastric": Bounds("Gastric", "mL/h", 0, 1000),
        "blood": Bounds("Blood", "mL/h", 0, 2000),
        "insensible": Bounds("Insensible", "mL/h", 0, 500),
    }
)
INSULIN: Final = "insulin"
# Soluble insulin into a vein; nobody is given more (the highest of poisonings, from memory).
RUNNING_NUMBERS: Final[Mapping[str, Bounds]] = MappingProxyType(
    {INSULIN: Bounds("Insulin", "units/h", 0, 1000)}
)
PERSON_NUMBERS: Final[Mapping[str, Bounds]] = MappingProxyType(
    {
        "weight": Bounds("Weight", "kg", 0.3, 400),
        "age": Bounds("Age", "years", 0, 120),
        "height": Bounds("Height", "cm", 25, 250),
    }
)
# Results that can be written for nobody of the unit, by the project's names; wider than illness.
RESULT_NUMBERS: Final[Mapping[str, Bounds]] = MappingProxyType(
    {
        "sodium": Bounds("Sodium", "mmol/L", 90, 200),
        "potassium": Bounds("Potassium", "mmol/L", 1, 12),
        "chloride": Bounds("Chloride", "mmol/L", 50, 160),
        "bicarbonate": Bounds("Bicarbonate", "mmol/L", 2, 60),
        "ph": Bounds("pH", "no unit", 6.5, 8),
        "pco2": Bounds("pCO₂", "mmHg", 5, 200),
        "glucose": Bounds("Glucose", "mmol/L", 0.5, 100),
        "haematocrit": Bounds("Haematocrit", "%", 5, 75),
        "albumin": Bounds("Albumin", "g/L", 5, 70),
        "lactate": Bounds("Lactate", "mmol/L", 0.1, 30),
    }
)
RESULT: Final = "result_"
FIELDS: Final[Mapping[str, Bounds]] = MappingProxyType(
    {
        **BAG_NUMBERS,
        **LOSS_NUMBERS,
        **RUNNING_NUMBERS,
        **PERSON_NUMBERS,
        **{RESULT + name: bounds for name, bounds in RESULT_NUMBERS.items()},
    }
)


@dataclass(frozen=True, slots=True)
class Tick:
    """Something a typed person has: its field, its word, and the conditions it stands for."""

    name: str
    word: str
    conditions: tuple[str, ...]


TICKS: Final = (
    Tick("shock", "shock", ("shock",)),
    Tick("liver", "failing liver", ("severe_liver_failure", "liver_disease")),
    Tick("kidneys", "failing kidneys", ("severe_kidney_failure", "kidney_disease")),
    Tick("alcohol", "alcohol dependence", ("alcohol_dependence",)),
    Tick("malnutrition", "malnutrition", ("malnutrition",)),
)
RUNS: Final = Tick("insulin_runs", "insulin runs, how much is not known", ())
NAMES: Final = (
    "patient", "fluid", "fluid_b", "fluid_then", "instead",
    "said", *CHOICES, *FIELDS, *(tick.name for tick in TICKS), RUNS.name,
)  # fmt: skip
# What belongs to one patient: another patient does not inherit it.
OF_ONE_PATIENT: Final = ("instead", "onset", "said", *LOSS_NUMBERS, *RUNNING_NUMBERS, RUNS.name)
