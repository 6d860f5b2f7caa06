"""The model's equations for one person as rates of change, written apart from the stepped model
and solved by a general solver (scipy's LSODA).
"""

from collections.abc import Sequence
from itertools import pairwise
from typing import Any, Final

import numpy as np
from scipy.integrate import solve_ivp

from app.physiology.course.body import Subject
from app.physiology.course.loads import Load, chloride_of, divalent_meq_l
from app.physiology.course.parameters import PARAMETERS

M: Final = {name: one.mid for name, one in PARAMETERS.items()}
HALF: Final = [M[f"{n}_min"] for n in ("lactate", "acetate", "gluconate", "malate", "citrate")]
CHARGE: Final = np.array([1.0, 1.0, 1.0, 2.0, 3.0])
# water, plasma, sodium, potassium, chloride, divalent, rest, five organic, glucose, albumin in
# plasma, between cells, added; potassium given to cells, base given to them, water come from cells
SIZE: Final = 19


def weak(albumin: float, phosphate: float, ph: float) -> float:
    return albumin * (0.123 * ph - 0.631) + phosphate * (0.309 * ph - 0.469)


class Person:
    """One person and what runs, with the state's derivative."""

    def __init__(self, subject: Subject, loads: Sequence[Load]) -> None:
        self.s, self.loads = subject, loads
        self.ecf0 = M["ecf_share"] * subject.water_l
        self.phosphate = subject.phosphate_mmol_l * self.ecf0
        between = 0.35 * subject.albumin_g_l * (self.ecf0 - subject.plasma_l)
        albumin = (subject.albumin_g_l * subject.plasma_l + between) / self.ecf0
        cations = subject.sodium_mmol_l + subject.potassium_mmol_l
        strong = cations - subject.chloride_mmol_l - subject.lactate_mmol_l
        filled = subject.bicarbonate_mmol_l + weak(albumin, subject.phosphate_mmol_l, subject.ph)
        self.start = np.zeros(SIZE)
        self.start[:2] = subject.water_l, subject.plasma_l
        self.start[2:5] = np.array(
            [subject.sodium_mmol_l, subject.potassium_mmol_l, subject.chloride_mmol_l]
        ) * self.ecf0  # fmt: skip
        self.start[6] = (strong - filled) * self.ecf0
        self.start[7] = subject.lactate_mmol_l * self.ecf0
        self.start[12] = subject.glucose_mmol_l * self.ecf0
        self.start[13:15] = subject.albumin_g_l * subject.plasma_l, between
        self.osmoles0 = self.osmoles(self.start) / self.ecf0
        self.cells = self.osmoles0 * (subject.water_l - self.ecf0)
        self.base0 = self.base(self.start)
        self.made = np.log(2) / HALF[0] * self.start[7]

    def osmoles(self, y: Any) -> float:  # noqa: ANN401
        return float(2 * (y[2] + y[3]) + y[5] + y[12])

    def ecf(self, y: Any) -> float:  # noqa: ANN401
        outside = self.osmoles(y)
        return float(y[0] * outside / (outside + self.cells))

    def base(self, y: Any) -> float:  # noqa: ANN401
        ecf = self.ecf0 if y is self.start else self.ecf(y)
        strong = (y[2] + y[3] + y[5] - y[4] - CHARGE @ y[7:12] - y[6]) / ecf
        return float(strong - weak((y[13] + y[14]) / ecf, self.phosphate / ecf, 7.4))

    def slope(self, t: float, y: Any) -> Any:  # noqa: ANN401
        s, d, ecf = self.s, np.zeros(SIZE), self.ecf(y)
        for load in self.loads:
            if load.starts_min <= t < load.starts_min + load.duration_min:
                self._pour(d, load)
        gone = np.log(2) / np.array(HALF) * y[7:12]
        d[7:12] -= gone
        d[7] += self.made
        d[6] += gone[2] * (1 - M["gluconate_share"])
        above = y[12] - s.glucose_mmol_l * ecf
        d[12] -= min(max(above, 0) * M["glucose_per_min"], 0.111 * s.weight_kg)
        self._cells(d, y, ecf)
        self._plasma(d, y, ecf)
        return d

    def _pour(self, d: Any, load: Load) -> None:  # noqa: ANN401
        rate, fluid = load.volume_l / load.duration_min, load.composition
        given = 0.8 * max(self.s.potassium_mmol_l - fluid.potassium_mmol_l, 0)
        organic = ("lactate", "acetate", "gluconate", "malate", "citrate")
        d[:2] += rate
        d[2:6] += rate * np.array([
            fluid.sodium_mmol_l - given, fluid.potassium_mmol_l + given, chloride_of(fluid),
            divalent_meq_l(fluid),
        ])  # fmt: skip
        d[7:12] += rate * np.array([fluid.ion_mmol_l(n) or 0 for n in organic])
        d[12] += rate * fluid.glucose_mmol_l
        d[13] += rate * fluid.albumin_g_l
        d[15] += rate * fluid.albumin_g_l
        d[16] -= rate * given

    def _cells(self, d: Any, y: Any, ecf: float) -> None:  # noqa: ANN401
        s = self.s
        kept_up = (
            s.potassium_mmol_l
            + y[16] / (M["potassium_l_kg"] * s.weight_kg)
            - 0.05 * (self.base(y) - self.base0)
            + 0.012 * max(self.osmoles(y) / ecf - self.osmoles0, 0)
            - 0.025 * max(y[12] / ecf - s.glucose_mmol_l, 0)
        )
        moved = M["potassium_l_kg_min"] * s.weight_kg * (y[3] / ecf - kept_up)
        d[2:4] += moved, -moved
        d[16] += moved
        buffer = M["buffer_l_kg"] * s.weight_kg
        taken = buffer * (self.base(y) - self.base0 - y[17]) / M["buffer_min"]
        d[6] += taken
        d[17] += taken / buffer

    def _plasma(self, d: Any, y: Any, ecf: float) -> None:  # noqa: ANN401
        pull = M["albumin_pull_ml_g"] * y[15] / 1000
        above = y[1] - self.s.plasma_l - pull
        below = ecf - self.ecf0 - pull - above
        out = M["out_per_min"] * (1 + 4 * max(above, 0) / self.s.plasma_l)
        d[1] += M["back_per_min"] * below - out * above
        escaped = M["albumin_escape_per_h"] / 60 * y[15]
        d[13:16] += -escaped, escaped, -escaped

    def solved(self, minutes: float) -> dict[str, float]:
        """What would be measured at the end."""
        edges = {0.0, minutes}
        for load in self.loads:
            edges |= {load.starts_min, load.starts_min + load.duration_min}
        y, times = self.start, sorted(t for t in edges if t <= minutes)
        for begin, end in pairwise(times):
            # Just inside the span, so that no rate is taken from the next one.
            y = solve_ivp(
                lambda t, y, e=end: self.slope(min(t, e - 1e-9), y), (begin, end), y,
                method="LSODA", rtol=1e-8, atol=1e-8,
            ).y[:, -1]  # fmt: skip
        ecf = self.ecf(y)
        return {
            "sodium_mmol_l": y[2] / ecf, "potassium_mmol_l": y[3] / ecf,
            "chloride_mmol_l": y[4] / ecf, "lactate_mmol_l": y[7] / ecf,
            "glucose_mmol_l": y[12] / ecf, "albumin_g_l": y[13] / y[1],
            "plasma_volume_ml": 1000 * y[1], "interstitial_volume_ml": 1000 * (ecf - y[1]),
        }  # fmt: skip
