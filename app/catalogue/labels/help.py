"""Every wording of a label that is read, each with an example; shown beside the field."""

from dataclasses import dataclass
from typing import Final

from app.catalogue.labels.words import (
    ION_NAMES,
    MASS_NAMES,
    OTHER_NAMES,
    SALT_NAMES,
    UNCLEAR_NAMES,
)


@dataclass(frozen=True, slots=True)
class Wording:
    """One way in which a label may say it."""

    what: str
    example: str


@dataclass(frozen=True, slots=True)
class Named:
    """One thing, and every name by which a label may call it."""

    what: str
    names: tuple[str, ...]


WORDINGS: Final = (
    Wording("Name, number, unit", "Sodium 130 mmol/L"),
    Wording("Number first", "130 mmol/L sodium"),
    Wording("Signs of ions", "Na⁺ 130 mmol/L; Ca2+ 1.35 mmol/L"),
    Wording("A list with its unit in front", "mEq/litre: sodium 130, chloride 109"),
    Wording("A list with its unit behind", "Na 140, K 5 mmol/L"),
    Wording("A list for another volume", "Each 100 mL contains: sodium chloride 0.9 g"),
    Wording("The volume behind", "sodium 77 mmol and chloride 77 mmol per 500 mL"),
    Wording("The volume on its own last line", "sodium 77 mmol\nchloride 77 mmol\nper 500 mL"),
    Wording("Milliequivalents", "calcium 2.7 mEq/L"),
    Wording("Ions by weight", "calcium 54 mg/L"),
    Wording("Salts by weight", "sodium chloride 9 g, potassium chloride 300 mg per 1000 mL"),
    Wording("Per cent", "sodium chloride 0.9% w/v"),
    Wording("A decimal comma", "potassium 5,4 mmol/l"),
    Wording("Thousands", "1.000 ml contains: sodium chloride 9,0 g"),
    Wording("Raised signs", "sodium 130 mmol·L⁻¹"),
    Wording("Two units of one figure", "potassium 20 mEq/L (20 mmol/L)"),
    Wording("A range", "pH 5.0 to 7.0"),
    Wording("A value and its range", "pH 6.6 (6.0–7.5)"),
    Wording("A range in words", "sodium between 130 and 160 mmol/L"),
    Wording("An upper bound", "potassium not more than 2 mmol/L"),
    Wording("Glucose with its water, or without", "dextrose monohydrate 50 g/L"),
    Wording("Osmolarity", "Osmolarity 273 mOsmol/litre"),
    Wording("Energy", "170 kcal/L"),
)
UNITS_READ: Final = ("mmol", "mEq", "g", "mg", "%", "mOsm", "kcal", "kJ")
SAYS_OPEN: Final = "read, but no amount is made of it: its water or how much was added is left open"


def names_read() -> tuple[Named, ...]:
    """Everything that is looked for, with every name it is read by."""
    tables = (ION_NAMES, SALT_NAMES, MASS_NAMES, OTHER_NAMES)
    told = [Named(key.replace("_", " "), names) for table in tables for key, names in table.items()]
    return (*told, Named(SAYS_OPEN, tuple(UNCLEAR_NAMES)))


@dataclass(frozen=True, slots=True)
class Help:
    """All that is shown beside the field in which a label is written."""

    wordings: tuple[Wording, ...] = WORDINGS
    names: tuple[Named, ...] = names_read()
    units: tuple[str, ...] = UNITS_READ


HELP: Final = Help()
