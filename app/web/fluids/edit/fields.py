"""The fields of the form: each is named as the entry's file names it, and said as people say it."""

from dataclasses import dataclass
from typing import Final

from app.catalogue.changes.differences import name_of
from app.catalogue.entry import MASS_KEYS
from app.chemistry.substances import IONS

TEXTS: Final = (
    "name", "kind", "variant_of", "reference_id", "note", "never_hung",
)  # fmt: skip
IONS_TABLE: Final = "composition_mmol_l"
MASSES_TABLE: Final = "composition_g_l"
ION_FIELDS: Final = {f"{IONS_TABLE}.{ion.key}": ion for ion in IONS}
MASS_FIELDS: Final = tuple(f"{MASSES_TABLE}.{key}" for key in MASS_KEYS)
BASIS: Final = f"{MASSES_TABLE}.glucose_basis"
NOT_LABELLED: Final = f"{IONS_TABLE}.not_labelled"
OTHER_SOLUTE: Final = "other.other_solute_mmol_l"
COLLOID_CHARGE: Final = "other.colloid_charge_meq_l"
OSMOLARITY: Final = "osmolarity_labelled_mosm_l"
ENERGY: Final = "energy_kcal_l"
PH: Final = ("ph.low", "ph.typical", "ph.high")
NUMBERS: Final = (*ION_FIELDS, *MASS_FIELDS, OTHER_SOLUTE, COLLOID_CHARGE, OSMOLARITY, ENERGY, *PH)
# Figures that are told even when they are 0.
LABEL_FIGURES: Final = frozenset({OSMOLARITY, ENERGY, *PH})
SIGNED: Final = frozenset({COLLOID_CHARGE})
PACKS: Final = "pack_sizes_ml"
WORDS: Final = "search_words"
# What a check may find, and where the reason for it is written.
EXPLAINABLE: Final = ("charge", "osmolarity", "strength", "energy", "sodium", "colloid_charge")
EXPLAINED: Final = tuple(f"explained.{what}" for what in EXPLAINABLE)
SOURCE_PARTS: Final = ("work", "place", "seen", "covers", "note")
MOST_SOURCES: Final = 20
TERMS: Final = ("reason", "effective_from", "review_on", "based_on", "revises")
SINGLE: Final = ("id", *TEXTS, *NUMBERS, BASIS, NOT_LABELLED, PACKS, WORDS, *EXPLAINED, *TERMS)
LONGEST: Final = {"label": 10_000, "note": 2000, "never_hung": 600, WORDS: 2000}
LONGEST_TEXT: Final = 600

COVERED: Final = {
    "composition": "composition", **{f"composition.{ion.key}": ion.name for ion in IONS},
    **{f"composition.{key}": key for key in MASS_KEYS}, "osmolarity": "osmolarity", "ph": "pH",
    "ph.low": "pH low", "ph.typical": "pH usual", "ph.high": "pH high", "energy": "energy",
    "pack_sizes": "bag sizes", "note": "note", "never_hung": "never hung",
}  # fmt: skip
COVERED_BY_WORD: Final = {word.casefold(): key for key, word in COVERED.items()} | {
    key.casefold(): key for key in COVERED
}
LABELS: Final = {
    "id": "Key in the catalogue", "name": "Name", "kind": "Sort of fluid",
    "variant_of": "Bare name it shares", "reference_id": "Second key", "note": "Note",
    "never_hung": "Why it is never hung as it is", WORDS: "Words people search by",
    PACKS: "Bag sizes", OSMOLARITY: "Osmolarity", ENERGY: "Energy",
    "ph.low": "pH, lowest", "ph.typical": "pH, usual", "ph.high": "pH, highest",
    NOT_LABELLED: "Chloride is not on the label", BASIS: "Glucose counted as",
    OTHER_SOLUTE: "Other solutes", COLLOID_CHARGE: "Charge of the colloid",
    "explained.charge": "Why charges do not balance",
    "explained.osmolarity": "Why osmolarity differs from the label",
    "explained.strength": "Why the name says another strength",
    "explained.energy": "Why energy differs from the sugar’s",
    "explained.sodium": "Why sodium lies outside what albumins hold",
    "explained.colloid_charge": "Where the colloid’s charge is from",
    "reason": "Why it is changed", "effective_from": "Counts from",
    "review_on": "To be looked at again by", "source": "Sources", "based_on": "Begun",
    "revises": "Takes the place of",
}  # fmt: skip
UNITS: Final = {
    OSMOLARITY: "mOsm/L", ENERGY: "kcal/L", PACKS: "mL, one after another",
    OTHER_SOLUTE: "mmol/L", COLLOID_CHARGE: "mEq/L, ±",
    **dict.fromkeys(ION_FIELDS, "mmol/L"), **dict.fromkeys(MASS_FIELDS, "g/L"),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Field:
    """One field of the form as the page draws it."""

    name: str
    label: str
    unit: str
    is_number: bool


def field(name: str) -> Field:
    """A field by its name."""
    label = LABELS.get(name) or _plain(name)
    return Field(name, label, UNITS.get(name, ""), name in NUMBERS)


def _plain(name: str) -> str:
    said = name_of(name).partition(",")[0]
    return said[:1].upper() + said[1:]


def source_field(place: int, part: str) -> str:
    """The name of one field of one source."""
    return f"source.{place}.{part}"


def said(name: str) -> str:
    """What a field is called in a sentence: "sodium", "source 2, which figures"."""
    if name.startswith("source."):
        _, place, part = name.split(".", 2)
        return f"Source {int(place) + 1}, {part}"
    return field(name).label
