"""One bag on one person, as a formula sees it and as its curve went."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from app.catalogue.fluid import ML_PER_L
from app.chemistry.composition import Composition
from app.physiology.course.body import Subject
from app.physiology.course.course import Course
from app.web.show import number

MINUTES_PER_HOUR: Final = 60.0
SPACES: Final = ("plasma_volume_ml", "interstitial_volume_ml", "intracellular_volume_ml")
# What differs by less is told as the same, mL.
NO_VOLUME_ML: Final = 10.0


@dataclass(frozen=True, slots=True)
class Tried:
    """A bag that runs from now at an even pace, and its course.

    mix: a litre of the bag. urine_ml_h: as told; None when kidneys are taken to pass excess.
    """

    mark: str
    mix: Composition
    volume_ml: float
    minutes: float
    subject: Subject
    course: Course
    urine_ml_h: float | None = None

    @property
    def last_min(self) -> float:
        """How far the curve looks."""
        return self.course.times_min[-1]

    @property
    def end_min(self) -> float:
        """The end of the infusion, or of the curve when that is sooner."""
        return min(self.minutes, self.last_min)

    @property
    def moments(self) -> tuple[float, ...]:
        """The end of the infusion, and the end of the curve where that is later."""
        later = self.last_min > self.end_min
        return (self.end_min, self.last_min) if later else (self.end_min,)

    @property
    def rate_ml_h(self) -> float:
        """How fast it runs."""
        return self.volume_ml / self.minutes * MINUTES_PER_HOUR

    @property
    def given_l(self) -> float:
        """What has run in by the end that a formula is worked for, L."""
        return self.volume_ml / ML_PER_L * self.end_min / self.minutes

    @property
    def salt_mmol(self) -> float:
        """Sodium and potassium given by then, mmol."""
        return self.mix.cation_salt_mmol_l * self.given_l

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

    def passed_l(self, minute: float) -> float:
        """Water lost on the curve by then: what was given and is not in the body, L."""
        return self.given_l - sum(self.change(space, minute) for space in SPACES) / ML_PER_L

    def passed_salt_mmol(self, minute: float) -> float:
        """Sodium and potassium lost on the curve by then, mmol; cells trade one for the other."""
        return self.salt_mmol - (self._salt_mmol(minute) - self._salt_mmol(0.0))

    def passed_words(self, minute: float) -> str:
        """What the curve has lost by then, for the middle of a sentence."""
        litres = self.passed_l(minute)
        if litres * ML_PER_L < NO_VOLUME_ML:
            return f"nothing has been passed by {when(minute)}"
        salt = number(self.passed_salt_mmol(minute), 0)
        water = number(litres * ML_PER_L, 0)
        return (
            f"{water} mL with {salt} mmol of sodium and potassium has been passed by {when(minute)}"
        )

    def _salt_mmol(self, minute: float) -> float:
        litre = self.at("sodium_mmol_l", minute) + self.at("potassium_mmol_l", minute)
        return litre * self.outside_l(minute)


def when(minute: float) -> str:
    """A time of the curve: "40 min", "4 h"."""
    if minute < MINUTES_PER_HOUR:
        return f"{number(minute, 0)} min"
    return f"{number(minute / MINUTES_PER_HOUR)} h"
