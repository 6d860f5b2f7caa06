"""The report that came with this release, and the label beside a prediction."""

import hashlib
from functools import cache
from typing import Final

from app.physiology.course import parameters
from app.review.trials.fluids import FluidKind
from app.review.trials.label import label_of
from app.review.trials.report import Report, report_from
from app.storage.seed_files import SEED_DATA, read_toml

REPORT: Final = SEED_DATA / "predicted.toml"
DIGITS: Final = 12


@cache
def shipped() -> Report:
    """What seed_data/predicted.toml holds."""
    return report_from(read_toml(REPORT))


def model_version() -> str:
    """A digest of every parameter of the model as it stands here."""
    told = repr((sorted(parameters.PARAMETERS.items()), parameters.SLOWED))
    return hashlib.sha256(told.encode()).hexdigest()[:DIGITS]


def is_stale() -> bool:
    """True where the model in force here is not the one that was scored."""
    return shipped().model != model_version()


def truth_label(
    quantity: str, fluid_kind: FluidKind | None, dose: float, minutes: float | None = None
) -> str:
    """How far off this quantity was in groups given such a fluid and dose.

    quantity: a series of a course. fluid_kind and dose: from app.review.trials.fluids (kind_of,
    dose_of). minutes: how far ahead is looked. "no trial like this" where no group was.
    """
    return label_of(shipped().points, quantity, fluid_kind, dose, minutes)
