"""What a missing value might be: a few values that a patient like this one could have."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import timedelta
from types import MappingProxyType
from typing import Final

from app.patient.access import Lumen
from app.patient.case import Case
from app.patient.known import Why
from app.patient.observation import Observation
from app.patient.order import Order

# Extremes seen on wards beside an ordinary value, in the project's units (common practice, no
# source). Order matters: the likeliest to change the advice comes first.
RESULTS: Final[Mapping[str, tuple[float, ...]]] = {
    "potassium": (6.2, 3.0, 4.2), "sodium": (118, 158, 140), "chloride": (120, 92, 103),
    "bicarbonate": (36, 12, 24), "ph": (7.55, 7.1, 7.4), "glucose": (22, 3, 6),
    "creatinine": (400, 80), "egfr": (15, 90), "urea": (30, 5), "lactate": (7, 1),
    "calcium_ionised": (1.5, 0.85, 1.2), "calcium_total": (3.1, 1.7, 2.35),
    "magnesium": (2.5, 0.4, 0.85), "phosphate": (2.4, 0.3, 1.1), "albumin": (18, 40),
    "osmolality": (340, 250, 288), "urine_osmolality": (600, 80), "urine_sodium": (60, 10),
    "haemoglobin": (65, 130), "inr": (3, 1), "ketones": (5, 0.2), "bilirubin": (150, 10),
    "creatine_kinase": (20000, 100), "lithium": (2.2, 0.7), "pco2": (60, 25, 40),
    "base_excess": (-12, 8, 0),
}  # fmt: skip
# How far a result usually drifts in a day while fluid runs (common practice, no source).
DRIFT_A_DAY: Final[Mapping[str, float]] = {
    "potassium": 0.8, "sodium": 6, "chloride": 6, "bicarbonate": 4, "ph": 0.08, "glucose": 5,
    "lactate": 2, "calcium_ionised": 0.15, "calcium_total": 0.2, "magnesium": 0.3,
    "phosphate": 0.4, "urea": 5,
}  # fmt: skip
CREATININE_DRIFT_A_DAY: Final = 0.5
DAYS_OF_DRIFT: Final = 3.0
ADULT_WEIGHTS_KG: Final = (45.0, 110.0)
NEWBORN_WEIGHTS_KG: Final = (2.0, 4.5)
INFANT_WEIGHTS_KG: Final = (4.0, 11.0)
LIGHT_AND_HEAVY: Final = (0.6, 1.5)
AGES_YEARS: Final = (0.02, 5.0, 60.0)
URINES_ML_H: Final = (10.0, 80.0)
SEXES: Final = ("female", "male")
CHILD_HEIGHTS_CM: Final = (68.0, 110.0, 170.0)
# A day's gain that is much in anyone, or by weight, and none.
BALANCE_HIGH_ML: Final = 6000.0
BALANCE_HIGH_ML_KG: Final = 120.0
SITES: Final = ("peripheral", "central")
ANY_LUMEN: Final = "any"


def plausible_cases(case: Case, order: Order | None, need: str, why: Why) -> tuple[Case, ...]:
    """The case with each plausible value of one missing input; empty for one we cannot vary.

    A stale result is varied round its last value by what it usually drifts; a missing or suspect
    one over what a patient may have.
    """
    if need in ("creatinine", "egfr") and why != "stale":
        # Both, since filtration may not be worked out from creatinine without height or sex.
        return tuple(
            _with_result(_with_result(case, "creatinine", creatinine), "egfr", egfr)
            for creatinine, egfr in zip(RESULTS["creatinine"], RESULTS["egfr"], strict=True)
        )
    if need in RESULTS:
        return tuple(_with_result(case, need, value) for value in _values(case, need, why))
    if need in ("lumen", "access", "site") and order is not None:
        return _with_lines(case, order.id)
    return tuple(_with(case, **{need: value}) for value in _of_patient(case, need))


def _of_patient(case: Case, need: str) -> tuple[object, ...]:
    """Values of a field of the patient; none for what is no field we vary."""
    if need == "weight_kg":
        return _weights_kg(case)
    if need == "balance_24h_ml":
        weight = case.patient.weight_kg
        by_weight = BALANCE_HIGH_ML if weight is None else weight * BALANCE_HIGH_ML_KG
        return (min(BALANCE_HIGH_ML, by_weight), 0.0)
    values: Mapping[str, tuple[object, ...]] = {
        "age_years": AGES_YEARS, "urine_ml_h": URINES_ML_H, "sex": SEXES,
        "height_cm": CHILD_HEIGHTS_CM,
    }  # fmt: skip
    return values.get(need, ())


def _values(case: Case, name: str, why: Why) -> tuple[float, ...]:
    observations = case.patient.results.get(name, ())
    last = observations[0].value if observations else None
    age = observations[0].age(case.now) if observations else None
    if why != "stale" or last is None or age is None:
        return RESULTS[name]
    days = min(age / timedelta(days=1), DAYS_OF_DRIFT)
    if name in ("creatinine", "egfr"):
        share = 1 + CREATININE_DRIFT_A_DAY * days
        return (last * share, last / share)
    drift = DRIFT_A_DAY.get(name)
    return RESULTS[name] if drift is None else (last + drift * days, last - drift * days)


def _with_result(case: Case, name: str, value: float) -> Case:
    result = Observation(name, value, "", case.now, as_written="assumed")
    results = MappingProxyType({**case.patient.results, name: (result,)})
    return _with(case, results=results)


def _with(case: Case, **changes: object) -> Case:
    return replace(case, patient=replace(case.patient, **changes))  # type: ignore[arg-type]


def _weights_kg(case: Case) -> tuple[float, ...]:
    """A light and a heavy weight for the age (a child's by the old resuscitation rule)."""
    patient = case.patient
    if patient.age_years is None and patient.setting is None:
        return ADULT_WEIGHTS_KG
    if patient.is_neonate():
        return NEWBORN_WEIGHTS_KG
    if not patient.is_child():
        return ADULT_WEIGHTS_KG
    age = patient.age_years
    if age is None or age < 1:
        return INFANT_WEIGHTS_KG
    usual = 2 * (age + 4)
    return tuple(usual * share for share in LIGHT_AND_HEAVY)


def _with_lines(case: Case, order_id: str) -> tuple[Case, ...]:
    """All on one line, by a hand vein or centrally."""
    together = tuple(
        replace(o, lumen=ANY_LUMEN if o.lumen is None or o.id == order_id else o.lumen)
        for o in case.orders
    )
    others = tuple(
        replace(o, lumen=ANY_LUMEN if not o.arrangement else o.lumen) for o in case.co_infusions
    )
    moved = replace(case, orders=together, co_infusions=others)
    return tuple(_with(moved, access=(Lumen(ANY_LUMEN, site),)) for site in SITES)
