"""What runs in and what is lost."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from math import inf
from typing import Final, Literal

import numpy as np

from app.chemistry.composition import Composition
from app.physiology.acid_base import albumin_charge_meq_l
from app.physiology.course.parameters import Values
from app.physiology.potassium import BALANCED_AT_MOST_MMOL_L

MINUTES_PER_HOUR: Final = 60.0
ML_PER_L: Final = 1000.0
NORMAL_PH: Final = 7.4
LossKind = Literal["urine", "gastric", "blood", "insensible"]
# The organic anions in the order of the state's rows, and their charges.
ORGANIC: Final = ("lactate", "acetate", "gluconate", "malate", "citrate")
ORGANIC_CHARGE: Final[Values] = np.array([1.0, 1.0, 1.0, 2.0, 3.0])


@dataclass(frozen=True, slots=True)
class Load:
    """One infusion: what a litre holds, how much, from when, over how long; at an even pace.

    insulin_units: soluble insulin in the whole of it. The volume of a syringe of insulin alone may
    be 0.
    """

    composition: Composition
    volume_l: float
    starts_min: float
    duration_min: float
    insulin_units: float = 0.0

    def litres_between(self, from_min: float, to_min: float) -> float:
        """Litres given in a span of time."""
        return self._share_between(from_min, to_min) * self.volume_l

    def units_between(self, from_min: float, to_min: float) -> float:
        """Units of insulin given in a span of time."""
        return self._share_between(from_min, to_min) * self.insulin_units

    def _share_between(self, from_min: float, to_min: float) -> float:
        return _overlap_min(self, from_min, to_min) / self.duration_min


def potassium_mmol_h(loads: Sequence[Load]) -> float:
    """Potassium of all that runs together, mmol/h, where it is most; what holds no more of it than
    a balanced fluid pushes none up and is not counted.
    """
    return max((_potassium_at(load.starts_min, loads) for load in loads), default=0.0)


def _potassium_at(at_min: float, loads: Sequence[Load]) -> float:
    return sum(
        load.composition.potassium_mmol_l * load.volume_l / load.duration_min * MINUTES_PER_HOUR
        for load in loads
        if load.composition.potassium_mmol_l > BALANCED_AT_MOST_MMOL_L
        and load.starts_min <= at_min < load.starts_min + load.duration_min
    )


@dataclass(frozen=True, slots=True)
class Salt:
    """Sodium, potassium and chloride in a litre of what is lost, mmol/L."""

    sodium: float
    potassium: float
    chloride: float


@dataclass(frozen=True, slots=True)
class Urine:
    """The same in a litre that kidneys pass, for many people at once."""

    sodium: Values
    potassium: float
    chloride: Values


# Textbook sizes. Three quarters of urine's sodium and potassium go with chloride (a day's urine of
# 150, 60 and 160 mmol), the rest with anions of food and metabolism: lost so, acid and base stay
# about as they are.
GASTRIC_CHLORIDE: Final = 130.0
URINE_CHLORIDE_SHARE: Final = 0.75
LOST: Final[dict[LossKind, Salt]] = {
    "urine": Salt(100.0, 40.0, 105.0),
    "gastric": Salt(60.0, 10.0, GASTRIC_CHLORIDE),
    "insensible": Salt(0.0, 0.0, 0.0),
}


@dataclass(frozen=True, slots=True)
class Loss:
    """What is lost, mL/h, all the time or from when on and for how long; sodium and potassium in a
    litre of it, mmol/L, where they are known. Blood is lost as it is, and takes no figures.
    """

    kind: LossKind
    ml_h: float
    sodium_mmol_l: float | None = None
    potassium_mmol_l: float | None = None
    starts_min: float = 0.0
    duration_min: float = inf

    def litres_between(self, from_min: float, to_min: float) -> float:
        """Litres lost in a span of time."""
        return self.ml_h / ML_PER_L * _overlap_min(self, from_min, to_min) / MINUTES_PER_HOUR

    @property
    def salt(self) -> Salt:
        """What a litre takes along: as told, else as usual; chloride its usual share of charges.

        Gastric juice keeps its usual chloride, the acid making up what its cations lack.
        """
        usual = LOST[self.kind]
        if self.sodium_mmol_l is None and self.potassium_mmol_l is None:
            return usual
        sodium = usual.sodium if self.sodium_mmol_l is None else self.sodium_mmol_l
        potassium = usual.potassium if self.potassium_mmol_l is None else self.potassium_mmol_l
        chloride = sodium + potassium
        if self.kind == "urine":
            chloride *= URINE_CHLORIDE_SHARE
        elif self.kind == "gastric":
            chloride = max(chloride, GASTRIC_CHLORIDE)
        return Salt(sodium, potassium, chloride)


def losses_between(losses: Iterable[Loss], from_min: float, to_min: float) -> tuple[Loss, ...]:
    """What is lost in a span of time, at the pace that it comes to there."""
    shares = [(loss, _overlap_min(loss, from_min, to_min) / (to_min - from_min)) for loss in losses]
    return tuple(
        loss if share == 1 else replace(loss, ml_h=loss.ml_h * share)
        for loss, share in shares
        if share
    )


def _overlap_min(one: Load | Loss, from_min: float, to_min: float) -> float:
    """Minutes of a span in which it runs."""
    ends = one.starts_min + one.duration_min
    return max(min(to_min, ends) - max(from_min, one.starts_min), 0.0)


# Excess salt and water as healthy kidneys pass it (Reid 2003: 73 mmol in 450 mL after saline).
PASSED: Final = Salt(120.0, 20.0, 115.0)
# What mannitol or glucose takes along in a litre of urine (60 to 70 mmol/L of sodium; Gennari and
# Kassirer, NEJM 1974;291:714, from memory).
OSMOTIC: Final = Salt(70.0, 10.0, 80.0)


def chloride_of(fluid: Composition) -> float:
    """Chloride, mmol/L; where the label gives none, what balances the charges."""
    if fluid.chloride_mmol_l is not None:
        return fluid.chloride_mmol_l
    return max(open_charge_meq_l(replace(fluid, chloride_mmol_l=0.0)), 0.0)


def open_charge_meq_l(fluid: Composition) -> float:
    """Positive charge that the anions of a fluid with a chloride leave open, mEq/L; albumin's own
    is counted where the label does not give the colloid's.
    """
    gap = fluid.charge_gap_meq_l or 0.0
    if fluid.colloid_charge_meq_l:
        return gap
    return gap - albumin_charge_meq_l(fluid.albumin_g_l, NORMAL_PH)


def divalent_meq_l(fluid: Composition) -> float:
    """Charge of calcium and magnesium, mEq/L."""
    return 2 * (fluid.calcium_mmol_l + fluid.magnesium_mmol_l)
