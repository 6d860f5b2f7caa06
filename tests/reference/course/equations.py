"""The model's equations for one person as rates of change, written apart from the stepped model
and solved by a general solver (scipy's LSODA).
"""

from collections.abc import Sequence
from itertools import pairwise
from typing import Any, Final

import numpy as np
from scipy.integrate import solve_ivp

from app.physiology.course.body import Subject
from app.physiology.course.loads import Load, Loss, chloride_of, divalent_meq_l
from app.physiology.course.parameters import PARAMETERS

M: Final = {name: one.mid for name, one in PARAMETERS.items()}
HALF: Final = [M[f"{n}_min"] for n in ("lactate", "acetate", "gluconate", "malate", "citrate")]
CHARGE: Final = np.array([1.0, 1.0, 1.0, 2.0, 3.0])
# The state: amounts outside cells (mmol, L) unless named; five organic anions stand at 7 to 11.
WATER, PLASMA, SODIUM, POTASSIUM, CHLORIDE, DIVALENT, REST = range(7)
ORGANIC: Final = slice(7, 12)
(GLUCOSE, ALBUMIN, BETWEEN, FAR, IN_CELLS, BASE, ECF, MANNITOL, INSULIN, ACTS, USED, FELT) = range(
    12, 24
)
SIZE: Final = 24


def weak(albumin: float, phosphate: float, ph: float) -> float:
    return albumin * (0.123 * ph - 0.631) + phosphate * (0.309 * ph - 0.469)


class Person:
    """One person, what runs and what is lost, with the state's derivative."""

    def __init__(
        self, subject: Subject, loads: Sequence[Load], losses: Sequence[Loss] = ()
    ) -> None:
        self.s, self.loads, self.losses = subject, loads, losses
        self.failing = subject.kidneys_fail
        share = M["failing_passes"] if self.failing else 1.0
        self.passes = 0.0 if subject.anuric else share * subject.kidneys_of_young
        self.uses = M["diabetic_share"] if subject.diabetes else 1.0
        ecf = self.ecf0 = M["ecf_share"] * subject.ecf_of_water / 0.38 * subject.water_l
        self.phosphate = subject.phosphate_mmol_l * ecf
        between = 0.35 * subject.albumin_g_l * (ecf - subject.plasma_l)
        albumin = (subject.albumin_g_l * subject.plasma_l + between) / ecf
        cations = subject.sodium_mmol_l + subject.potassium_mmol_l
        strong = cations - subject.chloride_mmol_l - subject.lactate_mmol_l
        filled = subject.bicarbonate_mmol_l + weak(albumin, subject.phosphate_mmol_l, subject.ph)
        y = self.start = np.zeros(SIZE)
        y[WATER], y[PLASMA], y[ECF] = subject.water_l, subject.plasma_l, ecf
        y[SODIUM], y[POTASSIUM] = subject.sodium_mmol_l * ecf, subject.potassium_mmol_l * ecf
        y[CHLORIDE], y[REST] = subject.chloride_mmol_l * ecf, (strong - filled) * ecf
        y[7], y[GLUCOSE] = subject.lactate_mmol_l * ecf, subject.glucose_mmol_l * ecf
        y[ALBUMIN], y[BETWEEN] = subject.albumin_g_l * subject.plasma_l, between
        self.albumin0, self.sodium0 = y[ALBUMIN], y[SODIUM]
        self.osmoles0 = self.osmoles(y) / ecf
        self.cells = self.osmoles0 * (subject.water_l - ecf)
        self.base0 = self.base(y)
        usual = subject.usual
        self.normal = 1.86 * (usual["sodium"] + usual["potassium"]) + usual["glucose"]
        # Who starts thin keeps water.
        self.keeps = self.osmoles0 < self.normal - 10
        self.leaks = max(usual["albumin"] / subject.albumin_g_l, 1) ** M["leaks_by_albumin"]
        well = subject.potassium_mmol_l >= 3.5 and not (subject.conditions or self.failing)
        self.takes_up = M["failing_takes_up"] if self.failing else 1.0
        self.takes_up *= M["healthy_takes_up"] if well else 1.0

    def osmoles(self, y: Any) -> float:  # noqa: ANN401
        salts = 0.93 * (2 * (y[SODIUM] + y[POTASSIUM]) + y[DIVALENT])
        return float(salts + y[GLUCOSE] + y[MANNITOL])

    def base(self, y: Any) -> float:  # noqa: ANN401
        strong = y[SODIUM] + y[POTASSIUM] + y[DIVALENT] - y[CHLORIDE] - CHARGE @ y[ORGANIC]
        albumin = (y[ALBUMIN] + y[BETWEEN]) / y[ECF]
        return float((strong - y[REST]) / y[ECF] - weak(albumin, self.phosphate / y[ECF], 7.4))

    def slope(self, t: float, y: Any) -> Any:  # noqa: ANN401
        d = np.zeros(SIZE)
        units = 0.0
        for load in self.loads:
            if load.starts_min <= t < load.starts_min + load.duration_min:
                self._pour(d, load)
                units += load.insulin_units / load.duration_min
        # So many litres cleared a minute; of lactate as much is made as is burnt at the start.
        litres = np.log(2) / np.array(HALF) * self.ecf0
        gone = litres * y[ORGANIC] / y[ECF]
        d[ORGANIC] -= gone
        d[7] += litres[0] * self.s.lactate_mmol_l
        d[REST] += gone[2] * (1 - M["gluconate_share"])
        # Water follows osmoles with a lag; cells give most of the potassium that it lacks.
        outside = self.osmoles(y)
        settled = y[WATER] * outside / (outside + self.cells)
        enters = (settled - y[ECF]) / M["water_lag_min"]
        d[ECF] += enters
        self._give(d, 0.8 * self.s.potassium_mmol_l * enters)
        self._sugar(d, y, units)
        self._cells(d, y)
        self._plasma(d, y)
        self._kidneys(d, y)
        return d

    def _give(self, d: Any, mmol: float) -> None:  # noqa: ANN401
        d[POTASSIUM] += mmol
        d[SODIUM] -= mmol
        d[IN_CELLS] -= mmol

    def _pour(self, d: Any, load: Load) -> None:  # noqa: ANN401
        rate, fluid = load.volume_l / load.duration_min, load.composition
        organic = ("lactate", "acetate", "gluconate", "malate", "citrate")
        d[[WATER, PLASMA, ECF]] += rate
        d[SODIUM] += rate * fluid.sodium_mmol_l
        d[POTASSIUM] += rate * fluid.potassium_mmol_l
        d[CHLORIDE] += rate * chloride_of(fluid)
        d[DIVALENT] += rate * divalent_meq_l(fluid)
        d[ORGANIC] += rate * np.array([fluid.ion_mmol_l(n) or 0 for n in organic])
        d[GLUCOSE] += rate * fluid.glucose_mmol_l
        d[MANNITOL] += rate * fluid.mannitol_mmol_l
        d[ALBUMIN] += rate * fluid.albumin_g_l
        self._give(d, 0.8 * rate * max(self.s.potassium_mmol_l - fluid.potassium_mmol_l, 0))

    def _sugar(self, d: Any, y: Any, units: float) -> None:  # noqa: ANN401
        s, ecf = self.s, y[ECF]
        half = M["insulin_half_mu_l"] * 0.15 * s.weight_kg / 1000
        wanted = y[INSULIN] / (y[INSULIN] + half)
        pace = 1 / 15 if wanted > y[ACTS] else np.log(2) / M["insulin_wears_min"]
        d[INSULIN] += units - np.log(2) / M["insulin_min"] * y[INSULIN]
        d[ACTS] += pace * (wanted - y[ACTS])
        above = max(y[GLUCOSE] - s.glucose_mmol_l * ecf, 0)
        used = min(above * M["glucose_per_min"] * self.uses, 0.111 * s.weight_kg)
        full = M["insulin_glucose"] * self.uses * s.weight_kg
        by_insulin = full * y[ACTS] * y[GLUCOSE] / (y[GLUCOSE] + 5 * ecf)
        lacks = max(min(s.glucose_mmol_l, 5) * ecf - y[GLUCOSE], 0)
        made = min(lacks * M["glucose_per_min"], 0.028 * s.weight_kg)
        d[GLUCOSE] += made - used - by_insulin

    def _cells(self, d: Any, y: Any) -> None:  # noqa: ANN401
        s, ecf = self.s, y[ECF]
        over = max(self.osmoles(y) / ecf - self.osmoles0, 0)
        d[USED] += (over - y[USED]) / M["used_to_min"]
        space = M["potassium_l_kg"] * s.weight_kg * (M["failing_stores"] if self.failing else 1)
        kept_up = (
            s.potassium_mmol_l
            + y[IN_CELLS] / space
            - 0.05 * (self.base(y) - self.base0)
            + M["potassium_per_mosm"] * max(over - y[USED], 0)
            - 0.045 * self.uses * max(y[GLUCOSE] / ecf - s.glucose_mmol_l, 0)
            - M["insulin_potassium"] * y[ACTS] * min(s.potassium_mmol_l / 4, 1)
        )
        pace = M["potassium_l_kg_min"] * self.takes_up
        self._give(d, pace * s.weight_kg * (kept_up - y[POTASSIUM] / ecf))
        buffer = M["buffer_l_kg"] * s.weight_kg
        taken = buffer * (self.base(y) - self.base0 - y[BASE]) / M["buffer_min"]
        d[REST] += taken
        d[BASE] += taken / buffer

    def _plasma(self, d: Any, y: Any) -> None:  # noqa: ANN401
        gained = y[ALBUMIN] - self.albumin0
        pull = M["albumin_pull_ml_g"] * gained / 1000
        above = y[PLASMA] - self.s.plasma_l - pull
        near = y[ECF] - self.ecf0 - pull - above - y[FAR]
        moved = (4 if above > 0 else 8) * abs(above) / self.s.plasma_l
        out = M["out_per_min"] * self.leaks * (1 + moved)
        d[PLASMA] += M["back_per_min"] * near - out * above
        d[FAR] += M["far_in_per_min"] * near - M["far_back_per_min"] * y[FAR]
        escaped = M["albumin_escape_per_h"] / 60 * gained
        d[ALBUMIN] -= escaped
        d[BETWEEN] += escaped

    def _kidneys(self, d: Any, y: Any) -> None:  # noqa: ANN401
        s, ecf, passes = self.s, y[ECF], self.passes
        for loss in self.losses:
            salt = loss.salt
            self._lose(d, loss.ml_h / 60_000, (salt.sodium, salt.potassium, salt.chloride))
        spilt = np.log(2) / M["mannitol_min"] * passes * y[MANNITOL]
        threshold = max(M["glucose_threshold_mmol_l"], s.glucose_mmol_l)
        filtered = M["filtered_l_kg_min"] * passes * s.weight_kg
        sugar = filtered * max(y[GLUCOSE] / ecf - threshold, 0)
        told = [loss.ml_h / 60_000 for loss in self.losses if loss.kind == "urine"]
        if told:
            share = min(400 * sum(told) / max(spilt + sugar, 1e-12), 1)
            spilt, sugar = share * spilt, share * sugar
        else:
            self._lose(d, (spilt + sugar) / M["osmotic_urine_mmol_l"], (70, 10, 80))
            self._set_points(d, y, filtered)
        d[MANNITOL] -= spilt
        d[GLUCOSE] -= sugar

    def _set_points(self, d: Any, y: Any, filtered: float) -> None:  # noqa: ANN401
        """What kidneys pass to come back to what is normal, or to a start on this side of it."""
        s, ecf, passes, usual = self.s, y[ECF], self.passes, self.s.usual
        sodium, chloride = y[SODIUM] / ecf, y[CHLORIDE] / ecf
        share = sodium / usual["sodium"]
        higher = chloride - sodium - (usual["chloride"] - usual["sodium"])
        litres = max(ecf - self.ecf0, 0) * M["excess_per_min"] * passes
        litres /= 1 + max(higher, 0) / M["chloride_halves_mmol_l"]
        salt = (120 * share, 20, min(max(115 * share + 4 * higher, 0), 250))
        self._lose(d, litres, salt)
        over = max(sodium - max(s.sodium_mmol_l, usual["sodium"]), 0)
        mmol = over * M["natriuresis_l_kg_min"] * passes * s.weight_kg
        self._lose(d, mmol / 200, (200, 20, 220))
        base = self.base(y)
        lacks = max(min(self.base0, usual["bicarbonate"]) - base, 0)
        d[CHLORIDE] -= lacks * ecf * passes / (60 * M["acid_h"])
        spare = max(base - max(self.base0, usual["bicarbonate"] + 2.5), 0)
        self._lose(d, spare * filtered / 200, (170, 30, 0))
        flows = 0.0 if self.failing else min(max((ecf / self.ecf0 - 1) / 0.05, 0), 1)
        kept = max(s.potassium_mmol_l, 4.0)
        kaliuresis = filtered * max(y[POTASSIUM] / ecf - kept + (kept - 4.0) * flows, 0)
        d[[POTASSIUM, CHLORIDE]] -= kaliuresis
        thin = max(min(self.osmoles0, self.normal) - self.osmoles(y) / ecf, 0)
        d[FELT] += (thin - y[FELT]) / M["water_felt_min"]
        water = min(M["water_ml_kg_min"] * y[FELT], 0.15) * passes * s.weight_kg / 1000
        self._lose(d, 0.0 if self.keeps else water, (0, 0, 0))

    def _lose(self, d: Any, litres: float, salt: tuple[Any, Any, Any]) -> None:  # noqa: ANN401
        d[[WATER, ECF]] -= litres
        d[[SODIUM, POTASSIUM, CHLORIDE]] -= litres * np.array(salt)

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
        ecf = y[ECF]
        return {
            "sodium_mmol_l": y[SODIUM] / ecf, "potassium_mmol_l": y[POTASSIUM] / ecf,
            "chloride_mmol_l": y[CHLORIDE] / ecf, "lactate_mmol_l": y[7] / ecf,
            "glucose_mmol_l": y[GLUCOSE] / ecf, "albumin_g_l": y[ALBUMIN] / y[PLASMA],
            "plasma_volume_ml": 1000 * y[PLASMA],
            "interstitial_volume_ml": 1000 * (ecf - y[PLASMA]),
            "intracellular_volume_ml": 1000 * (y[WATER] - ecf),
        }  # fmt: skip
