"""One bag on one person, as a formula sees it and as its curve went."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np

from app.catalogue.fluid import ML_PER_L
from app.chemistry.composition import Composition
from app.physiology.course.body import Subject
from app.physiology.course.course import Course
from app.physiology.course.loads import Load, Loss
from app.web.show import number

MINUTES_PER_HOUR: Final = 60.0
SPACES: Final = ("plasma_volume_ml", "interstitial_volume_ml", "intracellular_volume_ml")
# What differs by less is told as the same, mL.
NO_VOLUME_ML: Final = 10.0


@dataclass(frozen=True, slots=True)
class Tried:
    """A bag that runs from now at an even pace, and its course.

    bag: as it runs in. beside: what else runs in on the course. losses: as told; without urine
    among them kidneys are taken to pass excess.
    """

    mark: str
    bag: Load
    subject: Subject
    course: Course
    beside: tuple[Load, ...] = ()
    losses: tuple[Loss, ...] = ()

    @property
    def mix(self) -> Composition:
        """A litre of the bag."""
        return self.bag.composition

    @property
    def last_min(self) -> float:
        """How far the curve looks."""
        return self.course.times_min[-1]

    @property
    def end_min(self) -> float:
        """The end of the infusion, or of the curve when that is sooner."""
        return min(self.bag.duration_min, self.last_min)

    @property
    def moments(self) -> tuple[float, ...]:
        """The end of the infusion, and the end of the curve where that is later."""
        later = self.last_min > self.end_min
        return (self.end_min, self.last_min) if later else (self.end_min,)

    @property
    def rate_ml_h(self) -> float:
        """How fast it runs."""
        return self.bag.volume_l * ML_PER_L / self.bag.duration_min * MINUTES_PER_HOUR

    @property
    def runs_on(self) -> bool:
        """True when the curve ends before the bag does."""
        return self.bag.duration_min > self.last_min

    @property
    def given_l(self) -> float:
        """What of the bag has run in by the end that a formula is worked for, L."""
        return self.bag.litres_between(0.0, self.end_min)

    @property
    def insulin(self) -> bool:
        """True when insulin runs in on the course."""
        return any(load.insulin_units for load in self.beside)

    @property
    def urine_told(self) -> bool:
        """True when urine is lost as told."""
        return any(loss.kind == "urine" for loss in self.losses)

    def in_l(self, minute: float) -> float:
        """Everything that has run in by then, L."""
        return sum(load.litres_between(0.0, minute) for load in self._loads)

    def in_mmol(self, minute: float) -> float:
        """Sodium and potassium that have run in by then, mmol."""
        return sum(
            load.composition.cation_salt_mmol_l * load.litres_between(0.0, minute)
            for load in self._loads
        )

    @property
    def _loads(self) -> tuple[Load, ...]:
        return (self.bag, *self.beside)

    def at(self, series: str, minute: float) -> float:
        """The curve's middle at a time, by a straight line between its steps."""
        mid = self.course.series[series].mid
        return float(np.interp(minute, self.course.times_min, mid))

    def change(self, series: str, minute: float) -> float:
        """How much the curve's middle has moved by then."""
        return self.at(series, minute) - self.at(series, 0.0)

    def outside_l(self, minute: float) -> float:
        """Fluid outside cells on the curve, L."""
        return sum(self.at(space, minute) for space in SPACES[:2]) / ML_PER_L

    def lost_l(self, minute: float) -> float:
        """Water lost on the curve by then: what ran in and is not in the body, L."""
        return self.in_l(minute) - sum(self.change(space, minute) for space in SPACES) / ML_PER_L

    def lost_mmol(self, minute: float) -> float:
        """Sodium and potassium lost on the curve by then, mmol; cells trade one for the other."""
        return self.in_mmol(minute) - (self._salt_mmol(minute) - self._salt_mmol(0.0))

    def lost_words(self, minute: float) -> str:
        """What the curve has lost by then, for the middle of a sentence."""
        litres = self.lost_l(minute)
        if litres * ML_PER_L < NO_VOLUME_ML:
            return f"nothing has been lost by {when(minute)}"
        salt = number(self.lost_mmol(minute), 0)
        water = number(litres * ML_PER_L, 0)
        return (
            f"{water} mL with {salt} mmol of sodium and potassium has been lost by {when(minute)}"
        )

    def beside_words(self, minute: float) -> str:
        """What else has run in by then, as a sentence; empty for nothing."""
        millilitres = (self.in_l(minute) - self.bag.litres_between(0.0, minute)) * ML_PER_L
        if millilitres < NO_VOLUME_ML:
            return ""
        return f"The curve has {number(millilitres, 0)} mL of other infusions in by {when(minute)}."

    def told_l(self, minute: float) -> float:
        """Water of the losses that were told, by then, L; of blood its plasma."""
        return sum(litres for litres, _ in self._told(minute))

    def told_mmol(self, minute: float) -> float:
        """Sodium and potassium of those losses, mmol."""
        return sum(mmol for _, mmol in self._told(minute))

    def _told(self, minute: float) -> Iterator[tuple[float, float]]:
        plasma_mmol_l = self.subject.sodium_mmol_l + self.subject.potassium_mmol_l
        for loss in self.losses:
            litres = loss.ml_h / ML_PER_L * minute / MINUTES_PER_HOUR
            if loss.kind == "blood":
                plasma_l = litres * (1 - self.subject.haematocrit)
                yield plasma_l, plasma_l * plasma_mmol_l
            else:
                yield litres, litres * (loss.salt.sodium + loss.salt.potassium)

    def _salt_mmol(self, minute: float) -> float:
        litre = self.at("sodium_mmol_l", minute) + self.at("potassium_mmol_l", minute)
        return litre * self.outside_l(minute)


def when(minute: float) -> str:
    """A time of the curve: "40 min", "4 h"."""
    if minute < MINUTES_PER_HOUR:
        return f"{number(minute, 0)} min"
    return f"{number(minute / MINUTES_PER_HOUR)} h"
