"""What is not modelled and concerns this patient, or this bag: said first, and not in a list."""

from collections.abc import Collection, Iterator, Sequence
from typing import Final

from app.patient.snapshot import Snapshot
from app.web.prediction.asked import Bag
from app.web.prediction.person import Person

# What is on record, and what it does to the figures shown; textbook.
LEAKS: Final = "vessels leak, so less stays in plasma than shown."
KEEPS: Final = "water is kept: sodium may fall further."
OF_CONDITIONS: Final[tuple[tuple[str, str], ...]] = (
    ("septic_shock", f"Septic shock: {LEAKS}"),
    ("sepsis", f"Sepsis: {LEAKS}"),
    ("major_burns", f"Burns: {LEAKS}"),
    ("burns", f"Burns: {LEAKS}"),
    ("postoperative", f"After surgery {KEEPS} Vessels leak for a day or two."),
    ("siadh", f"Inappropriate antidiuretic hormone: {KEEPS}"),
    ("pneumonia", f"Pneumonia: {KEEPS}"),
    ("bronchiolitis", f"Bronchiolitis: {KEEPS}"),
    ("meningitis", f"Meningitis: {KEEPS}"),
    ("brain_injury", f"Brain injury: {KEEPS}"),
    ("nausea", f"Nausea: {KEEPS}"),
    ("pain", f"Pain: {KEEPS}"),
    ("diabetes_insipidus", "Diabetes insipidus: water runs away and sodium rises further."),
    ("diabetic_ketoacidosis", "Ketoacidosis: ketones, and the acid that goes with them."),
    ("hyperosmolar_state", "Hyperosmolar state: glucose drives urine, and sodium rises with it."),
    ("tumour_lysis", "Tumour lysis: potassium that cells set free."),
    ("rhabdomyolysis", "Rhabdomyolysis: potassium that muscle sets free."),
    ("adrenal_crisis", "Adrenal crisis: potassium falls and sodium rises fast on steroids."),
)  # fmt: skip
OF_DRUGS: Final[tuple[tuple[str, str], ...]] = (
    ("loop_diuretic", "A loop diuretic: water and potassium are lost with it."),
    ("thiazide", "A thiazide: sodium and potassium are lost with it."),
    ("potassium_raising", "Drugs that raise potassium."),
    ("desmopressin", f"Desmopressin: {KEEPS}"),
    ("sodium_lowering", "A drug that lowers sodium."),
)  # fmt: skip
MOST: Final = 3
# More than a balanced fluid holds of calcium, magnesium or phosphate, mmol/L.
BALANCED_MMOL_L: Final = 5.0
CALCIUM: Final = (
    "Calcium, magnesium and phosphate are not drawn: what the bag does to them, and by them, is "
    "not shown."
)
CARBON_DIOXIDE: Final = (
    "Bicarbonate sets carbon dioxide free: with poor breathing or circulation pH rises less, or "
    "falls."
)


def concerns(person: Person, bags: Sequence[Bag], volume_ml: float) -> tuple[str, ...]:
    """The few that matter most: of the record first, then of drugs, then of the bags."""
    found = [
        *_told(OF_CONDITIONS, person.conditions),
        *_told(OF_DRUGS, _drugs(person.snapshot)),
        *_of_bags(bags, volume_ml),
    ]
    return tuple(dict.fromkeys(found))[:MOST]


def _told(of: Sequence[tuple[str, str]], on_record: Collection[str]) -> Iterator[str]:
    said: set[str] = set()
    for key, words in of:
        effect = words.partition(": ")[2] or words
        if key in on_record and effect not in said:
            said.add(effect)
            yield words


def _drugs(patient: Snapshot | None) -> frozenset[str]:
    return frozenset() if patient is None else patient.medications.found


def _of_bags(bags: Sequence[Bag], volume_ml: float) -> Iterator[str]:
    mixes = [bag.mix(volume_ml) for bag in bags]
    if any(mix.bicarbonate_mmol_l for mix in mixes):
        yield CARBON_DIOXIDE
    most = (max(m.calcium_mmol_l, m.magnesium_mmol_l, m.phosphate_mmol_l) for m in mixes)
    if any(mmol_l > BALANCED_MMOL_L for mmol_l in most):
        yield CALCIUM
