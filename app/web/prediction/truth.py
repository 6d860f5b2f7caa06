"""How far off predictions of such a bag were in published groups, beside each picture."""

from collections.abc import Sequence
from typing import Final

from app.catalogue.fluid import ML_PER_L
from app.physiology.course.body import Subject
from app.review.trials.errors import NO_TRIAL
from app.review.trials.fluids import dose_of, kind_of
from app.review.trials.shipped import truth_label
from app.web.prediction.asked import Bag
from app.web.show import sentence

NO_TRIAL_WORDS: Final = "how far off this may be is not known: no trial like this"


def truth_of(key: str, bags: Sequence[Bag], volume_ml: float, subject: Subject) -> str:
    """One sentence for each bag of how far this quantity was off; one for both when alike.

    key: a series of the course. The kind is that of the fluid, the salt in the bag aside.
    """
    said = {bag.mark: sentence(_label(key, bag, volume_ml, subject)) for bag in bags}
    if len(set(said.values())) == 1:
        return next(iter(said.values()))
    return " ".join(f"{mark}: {text}" for mark, text in said.items())


def _label(key: str, bag: Bag, volume_ml: float, subject: Subject) -> str:
    composition = bag.fluid.composition
    kind = kind_of(composition)
    dose = 0.0
    if kind is not None:
        litres = volume_ml / ML_PER_L
        dose = dose_of(composition, kind, volume_l=litres, weight_kg=subject.weight_kg)
    label = truth_label(key, kind, dose)
    return NO_TRIAL_WORDS if label == NO_TRIAL else label
