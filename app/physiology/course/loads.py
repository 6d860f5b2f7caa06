"""What runs in and what is lost."""

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from app.chemistry.composition import Composition
from app.physiology.course.parameters import Values

LossKind = Literal["urine", "gastric", "blood", "insensible"]
# The organic anions in the order of the state's rows, and their charges.
ORGANIC: Final = ("lactate", "acetate", "gluconate", "malate", "citrate")
ORGANIC_CHARGE: Final[Values] = np.array([1.0, 1.0, 1.0, 2.0, 3.0])


@dataclass(frozen=True, slots=True)
class Load:
    """One infusion: what a litre holds, how much, from when, over how long; at an even pace."""

    composition: Composition
    volume_l: float
    starts_min: float
    duration_min: float

    def litres_between(self, from_min: float, to_min: float) -> float:
        """Litres given in a span of time."""
        ends = self.starts_min + self.duration_min
        share = max(min(to_min, ends) - max(from_min, self.starts_min), 0.0) / self.duration_min
        return share * self.volume_l


@dataclass(frozen=True, slots=True)
class Loss:
    """What is lost, mL/h, all the time."""

    kind: LossKind
    ml_h: float


@dataclass(frozen=True, slots=True)
class Salt:
    """Sodium, potassium and chloride in a litre of what is lost, mmol/L (textbook sizes)."""

    sodium: float
    potassium: float
    chloride: float


LOST: Final[dict[LossKind, Salt]] = {
    "urine": Salt(100.0, 40.0, 120.0),
    "gastric": Salt(60.0, 10.0, 130.0),
    "insensible": Salt(0.0, 0.0, 0.0),
}
# Excess salt and water as healthy kidneys pass it (Reid 2003: 73 mmol in 450 mL after saline).
PASSED: Final = Salt(120.0, 20.0, 115.0)


def chloride_of(fluid: Composition) -> float:
    """Chloride, mmol/L; where the label gives none, what balances the charges."""
    if fluid.chloride_mmol_l is not None:
        return fluid.chloride_mmol_l
    organic = sum(
        charge * (fluid.ion_mmol_l(name) or 0.0)
        for name, charge in zip(ORGANIC, ORGANIC_CHARGE, strict=True)
    )
    cations = fluid.sodium_mmol_l + fluid.potassium_mmol_l + divalent_meq_l(fluid)
    return max(cations - float(organic) - fluid.bicarbonate_mmol_l, 0.0)


def divalent_meq_l(fluid: Composition) -> float:
    """Charge of calcium and magnesium, mEq/L."""
    return 2 * (fluid.calcium_mmol_l + fluid.magnesium_mmol_l)
