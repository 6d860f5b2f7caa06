"""A published group as one middle person, with all that had to be assumed of it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from app.chemistry.composition import Composition
from app.physiology.compartments import Sex
from app.physiology.course.body import Assumed, Subject, subject_of
from app.physiology.course.loads import Load, Loss, LossKind
from app.review.trials.rows import Comparison, Row

# Adults of the trials' countries, where a paper gives no weight (common practice, no source).
WEIGHT_KG: Final = {"F": 65.0, "M": 75.0, "": 70.0}
SEX: Final[Mapping[str, tuple[Sex, ...]]] = {
    "F": ("female",), "M": ("male",), "": ("male", "female"),
}  # fmt: skip
RESULTS: Final = {
    "na_mmol_l": "sodium", "k_mmol_l": "potassium", "cl_mmol_l": "chloride",
    "hco3_mmol_l": "bicarbonate", "ph": "ph", "pco2_mmhg": "pco2", "albumin_g_l": "albumin",
    "lactate_mmol_l": "lactate", "osmolality_mosm_kg": "osmolality", "hct_pct": "haematocrit",
}  # fmt: skip
ML_PER_L: Final = 1000.0
MINUTES_PER_HOUR: Final = 60.0


@dataclass(frozen=True, slots=True)
class Group:
    """A middle person of a group, what ran in and out, and what was assumed, as text."""

    subject: Subject
    load: Load
    losses: tuple[Loss, ...]
    assumed: tuple[str, ...]


def groups_of(one: Comparison, fluid: Composition) -> tuple[Group, ...]:
    """The group that a row speaks of: a man and a woman where both are in it or sex is not given.

    Raises BaselineError where its baseline cannot be.
    """
    return tuple(_group(one, fluid, sex) for sex in SEX[one.row.sex])


def assumed_of(groups: Sequence[Group]) -> tuple[str, ...]:
    """All that was assumed, each thing once."""
    both = ("midway between a man and a woman",) if len(groups) > 1 else ()
    return both + tuple(dict.fromkeys(text for group in groups for text in group.assumed))


def _group(one: Comparison, fluid: Composition, sex: Sex) -> Group:
    row, assumed = one.row, []
    weight = row.weight_kg
    if weight is None:
        weight = WEIGHT_KG[row.sex]
        assumed.append(f"weight {weight:g} kg")
    known = {RESULTS[c]: value for c, value in one.baseline.items() if c in RESULTS}
    subject = subject_of(
        weight_kg=weight, age_years=row.age_years, sex=sex, height_cm=None,
        results=known, conditions=row.conditions,
    )  # fmt: skip
    assumed += [_words(a) for a in subject.assumed]
    volume = row.volume_ml if row.volume_ml is not None else (row.ml_per_kg or 0.0) * weight
    load = Load(fluid, volume / ML_PER_L, 0.0, row.duration_min)
    return Group(subject, load, _losses(row), tuple(assumed))


def _words(one: Assumed) -> str:
    """What was assumed, and where it stands in for a figure of the paper, which."""
    why = f", {one.why}" if one.name == "ph" else ""
    return f"{one.name.replace('_', ' ')} {one.value:.3g} {one.unit}".strip() + why


def _losses(row: Row) -> tuple[Loss, ...]:
    """What was lost until the row's moment, at an even pace."""
    lost: tuple[tuple[LossKind, float | None], ...] = (
        ("urine", row.urine_ml), ("blood", row.blood_ml),
    )  # fmt: skip
    return tuple(
        Loss(kind, ml / row.time_min * MINUTES_PER_HOUR) for kind, ml in lost if ml is not None
    )
