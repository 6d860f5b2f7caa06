"""What kidneys defend: what is normal, not how sick somebody starts. With nothing given nothing
changes all the same: whatever holds a sick start where it is, holds on.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np

from app.physiology.course.body import Subject
from app.physiology.course.parameters import SALT_OSMOLES, Drawn, Values

# On record with one of these vasopressin is out whatever the osmolality: next to no water is
# passed (textbook). Drugs are here for a subject that is told of them.
KEEP_WATER: Final = frozenset({
    "siadh", "desmopressin", "oxytocin", "postoperative", "pain", "nausea", "vomiting", "pneumonia",
    "bronchiolitis", "meningitis", "encephalitis", "brain_injury", "heart_failure",
    "pulmonary_oedema", "cirrhosis", "severe_liver_failure", "sodium_lowering", "ssri",
    "carbamazepine", "thiazide", "dehydration", "hypovolaemia", "haemorrhage", "shock",
    "septic_shock", "cardiogenic_shock", "sepsis", "burns", "major_burns", "trauma", "labour",
    "adrenal_crisis",
})  # fmt: skip
# Salt is held; and none is passed at all (textbook).
HOLD_SALT: Final = frozenset({
    "heart_failure", "pulmonary_oedema", "fluid_overload", "cirrhosis", "severe_liver_failure",
    "postoperative", "trauma",
})  # fmt: skip
PASS_NO_SALT: Final = frozenset({
    "shock", "septic_shock", "cardiogenic_shock", "sepsis", "haemorrhage", "burns", "major_burns",
})  # fmt: skip
# Of the fluid outside cells so much is lacking: nothing above the start is excess before it is
# made good (about 3% of weight, from memory).
DRY: Final = frozenset({
    "dehydration", "hypovolaemia", "diarrhoea", "vomiting", "gastric_losses", "pyloric_stenosis",
    "hyperosmolar_state", "diabetic_ketoacidosis", "metabolic_alkalosis",
})  # fmt: skip
DRY_LACKS: Final = 0.08
PASS_NO_ACID: Final = frozenset({"renal_tubular_acidosis"}) | PASS_NO_SALT
# Urine saltier than plasma whatever comes (textbook).
SALTY: Final = "siadh"
SALTIER: Final = 1.15
# An osmolality so far under normal has a cause that keeps water (about 5 mmol/L of sodium).
THIN_MOSM: Final = 10.0
# Once its cause is gone water runs off at once: hypovolaemia made good, vomiting or pain over, a
# drug stopped. Of such people three in ten, of others low in sodium one in seven; where hearts,
# livers or kidneys fail, none (no source: how often is not known). As ranks of `ready_to_pass`.
WAKING: Final = frozenset({
    "dehydration", "hypovolaemia", "vomiting", "gastric_losses", "diarrhoea", "nausea", "pain",
    "postoperative", "thiazide", "desmopressin", "oxytocin", "adrenal_crisis", "pneumonia",
})  # fmt: skip
NEVER_WAKE: Final = frozenset({
    "heart_failure", "cirrhosis", "severe_liver_failure", "severe_kidney_failure", "anuria",
    "dialysis", "acute_kidney_injury",
})  # fmt: skip
THREE_IN_TEN: Final = 1.33
ONE_IN_SEVEN: Final = 1.78
# Most water passed by a normal kidney that is told to, mL/kg/min (a litre in 1.5 h; from memory).
WATER_MOST_ML_KG_MIN: Final = 0.15
# Below this nobody passes bicarbonate: above normal by so much (26 to 28 mmol/L, textbook).
KEPT_ABOVE_NORMAL: Final = 2.5


@dataclass(frozen=True, slots=True)
class Defended:
    """Set points and shares, for many people at once.

    osmoles_l: below it water is passed, mL/kg/min up to `most`, a share `water` of what health
    passes; of those in whom it `wakes`, up to normal_osmoles_l once salt is made good. salt: share
    of excess salt that is passed, from ecf_l outside cells on; saltier: urine's sodium, of
    plasma's, at least. sodium, chloride, potassium, base_least, base_most: mmol/L.
    """

    osmoles_l: Values
    normal_osmoles_l: float
    water: Values
    wakes: Values
    most: Values
    salt: Values
    ecf_share: float
    saltier: float
    sodium: float
    chloride: float
    base_least: Values
    base_most: Values
    acid: float


def defended(
    subject: Subject, drawn: Drawn, at_rest: tuple[Values, Values], *, keeps_water: bool | None
) -> Defended:
    """at_rest: osmoles in a litre and base, mmol/L, at the start. keeps_water: as in course_of."""
    osmoles_l, base = at_rest
    ills, usual, one = subject.conditions, subject.usual, np.ones_like(osmoles_l)
    normal = SALT_OSMOLES * (usual["sodium"] + usual["potassium"]) + usual["glucose"]
    thin = float(osmoles_l[0]) < normal - THIN_MOSM
    wakes = one * (not keeps_water) if keeps_water is not None else _wakes(ills, drawn) * thin
    return Defended(
        osmoles_l=np.minimum(osmoles_l, normal),
        normal_osmoles_l=normal,
        water=wakes if keeps_water is not None or thin else _water(ills, drawn),
        wakes=wakes,
        most=np.where(wakes * thin > 0, drawn["aquaresis_ml_kg_min"], WATER_MOST_ML_KG_MIN),
        salt=_salt(ills, drawn) * (not keeps_water),
        ecf_share=1 + DRY_LACKS * (not ills.isdisjoint(DRY)),
        saltier=SALTIER * (SALTY in ills),
        sodium=max(subject.sodium_mmol_l, usual["sodium"]),
        chloride=usual["chloride"] - usual["sodium"],
        base_least=np.minimum(base, usual["bicarbonate"]),
        base_most=np.maximum(base, usual["bicarbonate"] + KEPT_ABOVE_NORMAL),
        acid=float(ills.isdisjoint(PASS_NO_ACID)),
    )


def _wakes(ills: frozenset[str], drawn: Drawn) -> Values:
    ready = drawn["ready_to_pass"]
    if not ills.isdisjoint(NEVER_WAKE):
        return np.zeros_like(ready)
    rank = ONE_IN_SEVEN if ills.isdisjoint(WAKING) else THREE_IN_TEN
    return np.asarray(ready > rank, dtype=np.float64)


def _water(ills: frozenset[str], drawn: Drawn) -> Values:
    keeping = drawn["keeping_passes"]
    return np.ones_like(keeping) if ills.isdisjoint(KEEP_WATER) else keeping


def _salt(ills: frozenset[str], drawn: Drawn) -> Values:
    one = np.ones_like(drawn["holding_passes"])
    if not ills.isdisjoint(PASS_NO_SALT):
        return 0 * one
    return one if ills.isdisjoint(HOLD_SALT) else drawn["holding_passes"]
