"""How far off predictions of such a bag were in published groups, and where no group was."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from app.catalogue.fluid import ML_PER_L
from app.cautions.phrases import listed
from app.physiology.course.body import Subject
from app.review.trials.errors import NO_TRIAL
from app.review.trials.fluids import dose_of, kind_of
from app.review.trials.shipped import is_stale, truth_label
from app.web.prediction.asked import Bag
from app.web.show import sentence

NONE_AT_ALL: Final = (
    "No published group was given such a fluid and dose: how far off this may be is not known."
)
STALE: Final = (
    "How far off this may be is not known: the model has changed since it was last held against "
    "published groups."
)
NONE_OF: Final = "How far off it may be is not known, no trial like this, for"


@dataclass(frozen=True, slots=True)
class Truth:
    """How far off one quantity was, in short and in full; empty where no trial was like it."""

    short: str = ""
    full: str = ""


def truth_of(
    key: str, bags: Sequence[Bag], volume_ml: float, subject: Subject, minutes: float | None = None
) -> Truth:
    """One sentence for each bag of how far this quantity was off; one for both when alike.

    key: a series of the course. minutes: how far ahead is looked. The kind is that of the fluid,
    the salt in the bag aside.
    """
    labels = {b.mark: _label(key, b, volume_ml, (subject, minutes)) for b in bags}
    short = {m: sentence(label.partition(";")[0]) for m, label in labels.items()}
    return Truth(_each(labels, short), _each(labels, {m: sentence(x) for m, x in labels.items()}))


def _each(labels: Mapping[str, str], said: Mapping[str, str]) -> str:
    """What is known of each bag under its mark; without one where all are alike."""
    told = {mark: said[mark] for mark, label in labels.items() if label != NO_TRIAL}
    if len(told) == len(labels) and len(set(told.values())) == 1:
        return next(iter(told.values()))
    if len(labels) == 1:
        return next(iter(told.values()), "")
    return " ".join(f"{mark}: {text}" for mark, text in told.items())


def untried_words(
    named: Sequence[tuple[str, str]], bags: Sequence[Bag], volume_ml: float, subject: Subject
) -> str:
    """Said once for all: the quantities of which no trial was like this.

    named: a series of the course, and how the page calls it. A score of another model is not told.
    """
    if is_stale():
        return STALE
    lacking = {
        bag.mark: tuple(
            word for key, word in named if _label(key, bag, volume_ml, (subject, None)) == NO_TRIAL
        )
        for bag in bags
    }
    if all(len(words) == len(named) for words in lacking.values()):
        return NONE_AT_ALL
    if len(set(lacking.values())) == 1:
        (words,) = set(lacking.values())
        return f"{NONE_OF} {listed(words)}." if words else ""
    each = "; ".join(
        f"{mark}: {'everything' if len(words) == len(named) else listed(words)}"
        for mark, words in lacking.items()
        if words
    )
    return f"{NONE_OF} {each}."


def _label(key: str, bag: Bag, volume_ml: float, of: tuple[Subject, float | None]) -> str:
    (subject, minutes), composition = of, bag.fluid.composition
    if is_stale():
        return NO_TRIAL
    kind = kind_of(composition)
    dose = 0.0
    if kind is not None:
        litres = volume_ml / ML_PER_L
        dose = dose_of(composition, kind, volume_l=litres, weight_kg=subject.weight_kg)
    return truth_label(key, kind, dose, minutes)
