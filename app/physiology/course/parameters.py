"""What the model is made of: each number with its plausible range, and where it comes from.

Set from the open trial rows as groups, none by a single row: the capillary rates from the
haematocrit after saline (hct_bolus1989), the buffers of cells from the bicarbonate after saline
and after sodium bicarbonate (hasman2012, bicarb_cooper1990), potassium from kcl_icu1991, the pull
of colloids from the plasma volumes of the albumin rows and the albumin after starch. The space of
chloride and the buffers were chosen with scheingraber1999 and mcfarlane1994 in view as well, so
those two groups of ours.csv are no longer held out; nor are mannitol_korea1992,
mannitol_japan1986 and manninen1987, in view when potassium was let out of cells by osmoles. The
lag of water through cell walls and the salt of an osmotic diuresis were chosen with hs75_women2005
and neuro2011 in view, within what is known of them; what the far part of the interstitium takes,
so that a fifth to a quarter of what is kept stays in plasma, with jarvela2003 in view. How kidneys
pass salt was set from the urine of reid2003. The widths of the bands:
from the SDs between people that each names, no wider, so that four of five measured changes
lie inside, those of held-out groups counted. The rest is textbook size or from memory, as each
says.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

Values = NDArray[np.float64]
Drawn = Mapping[str, Values]
SEED: Final = 20310304
# Osmoles of salt for each mmol of its cations: two ions, at an osmotic coefficient of 0.93
# (textbook).
SALT_OSMOLES: Final = 2 * 0.93
# The 10th and 90th percentile of a normal variate.
Z_80: Final = 1.2816


@dataclass(frozen=True, slots=True)
class Parameter:
    """One number: its middle, and the range in which four of five people are taken to lie."""

    mid: float
    low: float
    high: float
    unit: str
    why: str


PARAMETERS: Final[Mapping[str, Parameter]] = {
    "ecf_share": Parameter(
        0.38, 0.34, 0.42, "of body water", "chloride space; open rows and scheingraber1999"
    ),
    "out_per_min": Parameter(0.055, 0.038, 0.080, "/min", "plasma to interstitium, hct_bolus1989"),
    "back_per_min": Parameter(0.038, 0.026, 0.056, "/min", "interstitium to plasma, the same"),
    "albumin_pull_ml_g": Parameter(15.0, 12.0, 19.0, "mL/g", "water held by albumin, albumin rows"),
    "starch_pull_ml_g": Parameter(11.0, 8.0, 15.0, "mL/g", "the same of starch, HES row"),
    "gelatin_pull_ml_g": Parameter(11.0, 7.0, 15.0, "mL/g", "the same of gelatin, from memory"),
    "albumin_escape_per_h": Parameter(0.07, 0.05, 0.12, "/h", "escape of albumin, from memory"),
    "buffer_l_kg": Parameter(
        0.10, 0.05, 0.25, "L/kg", "buffers of cells; hasman2012, scheingraber1999, mcfarlane1994"
    ),
    "buffer_min": Parameter(40.0, 20.0, 80.0, "min", "their time, bicarb_cooper1990"),
    "lactate_min": Parameter(12.0, 8.0, 25.0, "min", "half-life in health, from memory"),
    "acetate_min": Parameter(10.0, 6.0, 20.0, "min", "half-life, from memory"),
    "gluconate_min": Parameter(90.0, 50.0, 160.0, "min", "half-life, from memory"),
    "gluconate_share": Parameter(0.40, 0.20, 0.60, "share", "that becomes bicarbonate, hasman2012"),
    "malate_min": Parameter(20.0, 10.0, 40.0, "min", "half-life, from memory"),
    "citrate_min": Parameter(30.0, 15.0, 60.0, "min", "half-life, from memory"),
    "potassium_l_kg_min": Parameter(0.0083, 0.0055, 0.012, "L/kg/min", "into cells, kcl_icu1991"),
    "potassium_l_kg": Parameter(2.5, 1.5, 4.0, "L/kg", "space of the cells; 200 mmol a mmol/L"),
    "potassium_per_mosm": Parameter(
        0.04, 0.02, 0.08, "mmol/L", "out of cells for each mosm/kg above the start; mannitol rows"
    ),
    "excess_per_min": Parameter(0.0018, 0.0008, 0.0040, "/min", "salt and water passed, reid2003"),
    "chloride_halves_mmol_l": Parameter(
        4.0, 2.0, 8.0, "mmol/L", "chloride above normal that halves the salt passed; reid2003"
    ),
    "water_ml_kg_min": Parameter(0.02, 0.01, 0.035, "mL/kg/min", "for each mosm/kg below, memory"),
    "glucose_per_min": Parameter(0.04, 0.02, 0.06, "/min", "disposal in health, from memory"),
    "water_lag_min": Parameter(
        1.0, 0.5, 2.0, "min", "time constant of water through cell walls; hs75_women2005"
    ),
    "mannitol_min": Parameter(
        100.0, 60.0, 160.0, "min", "half-life; labels of mannitol injections, seen: 30 to 150 min"
    ),
    "osmotic_urine_mmol_l": Parameter(
        200.0, 130.0, 300.0, "mmol/L", "in an osmotic diuresis (a litre for 35 g), from memory"
    ),
    "filtered_l_kg_min": Parameter(
        0.0015, 0.0010, 0.0020, "L/kg/min", "plasma filtered by healthy kidneys, from memory"
    ),
    "glucose_threshold_mmol_l": Parameter(
        11.0, 10.0, 12.0, "mmol/L", "glucose that kidneys keep back up to, from memory"
    ),
    "failing_passes": Parameter(
        0.10,
        0.03,
        0.30,
        "share",
        "of what health passes, by failing kidneys; a label has mannitol's half-life at 36 h",
    ),
    "failing_stores": Parameter(
        0.35, 0.12, 0.90, "share", "of health's cell space of potassium, with failing; no source"
    ),
    "failing_takes_up": Parameter(
        0.75, 0.35, 1.20, "share", "of health's pace into cells, with failing; kcl_icu1991, no more"
    ),
    "insulin_min": Parameter(8.0, 5.0, 15.0, "min", "half-life in plasma, from memory"),
    "insulin_half_mu_l": Parameter(
        60.0, 35.0, 100.0, "mU/L", "half of the full effect, Rizza 1981, from memory"
    ),
    "insulin_wears_min": Parameter(
        75.0, 50.0, 110.0, "min", "half-life of the effect: over in 4 to 6 h, from memory"
    ),
    "insulin_potassium": Parameter(
        1.6, 1.1, 2.3, "mmol/L", "full effect; Allon 1990, Harel 2016: 0.65 to 0.8 after an hour"
    ),
    "insulin_glucose": Parameter(
        0.07, 0.04, 0.12, "mmol/kg/min", "full effect, between clamps and the ill, from memory"
    ),
    "diabetic_share": Parameter(
        0.35, 0.20, 0.60, "share", "of health's use of glucose, in diabetes; no source"
    ),
    "far_in_per_min": Parameter(
        0.010, 0.004, 0.021, "/min", "near to far interstitium; volume kinetics, from memory"
    ),
    "far_back_per_min": Parameter(
        0.0085, 0.005, 0.014, "/min", "far to near; a fifth to a quarter stays in plasma, textbook"
    ),
    "leaks_by_albumin": Parameter(
        0.5, 0.25, 1.0, "power", "of usual albumin by the patient's: faster leak; size no source"
    ),
    "natriuresis_l_kg_min": Parameter(
        0.0006, 0.0003, 0.0012, "L/kg/min", "of sodium above normal, cleared; from memory"
    ),
    "acid_h": Parameter(12.0, 6.0, 24.0, "h", "time constant of acid passed, over a day; textbook"),
    "keeping_passes": Parameter(
        0.05, 0.01, 0.25, "share", "of the water of health, where vasopressin is out; no source"
    ),
    "holding_passes": Parameter(
        0.35, 0.15, 0.80, "share", "of the salt of health, where salt is held; no source"
    ),
    "aquaresis_ml_kg_min": Parameter(
        0.08, 0.04, 0.15, "mL/kg/min", "water passed once what kept it is gone; from memory"
    ),
    "ready_to_pass": Parameter(
        1.0, 0.5, 2.0, "rank", "who passes water at once when what kept it is gone; a rank only"
    ),
    "used_to_min": Parameter(
        240.0, 120.0, 480.0, "min", "cells get used to an osmolality; fades in hours, from memory"
    ),
    "healthy_takes_up": Parameter(
        1.25, 0.9, 1.75, "times", "pace of potassium into cells in health against the ill; memory"
    ),
    "water_felt_min": Parameter(
        30.0, 15.0, 60.0, "min", "vasopressin gone and urine thin after plasma is; from memory"
    ),
}
# How far one person's change differs from the mean of a group's, as a share of it (from memory).
PERSON_SHARE: Final = 0.15


@dataclass(frozen=True, slots=True)
class Spread:
    """What sets people, and two samples of one, apart beyond the model's parameters.

    sd: its standard deviation at most, in the unit of the series. change: a change of the middle
    person at which two thirds of it are there.
    """

    sd: float
    change: float
    why: str


SHOWN: Final = "SD between people in the trials' tables"
SPREADS: Final[Mapping[str, Spread]] = {
    "sodium_mmol_l": Spread(1.9, 1.5, "bolus_abstract2018, neville2010: SD 2.0 to 2.3"),
    "potassium_mmol_l": Spread(0.38, 0.3, "kcl_icu1991: SD 0.3 to 0.4"),
    "chloride_mmol_l": Spread(1.5, 3.0, SHOWN + ", 1 to 3"),
    "bicarbonate_mmol_l": Spread(1.4, 2.0, SHOWN + ", 1 to 3"),
    "base_excess_mmol_l": Spread(1.2, 2.0, SHOWN + ", 1 to 3"),
    "ph": Spread(0.038, 0.03, SHOWN + ", 0.04"),
    "albumin_g_l": Spread(2.0, 4.0, SHOWN + ", 2 to 5"),
    "osmolality_mosm_kg": Spread(2.5, 3.0, "williams1999: SD 3"),
    "haematocrit": Spread(0.8, 2.0, SHOWN + ", and posture"),
    "glucose_mmol_l": Spread(1.0, 3.0, "no source"),
    "lactate_mmol_l": Spread(0.3, 0.5, "no source"),
    "plasma_volume_ml": Spread(0.035, 0.08, SHOWN + ", 4 to 7% of the start"),
    "interstitial_volume_ml": Spread(0.04, 0.08, "as plasma; share of the start"),
    "intracellular_volume_ml": Spread(0.01, 0.02, "no source; share of the start"),
}
# Series whose spread is a share of the start.
OF_VOLUME: Final = frozenset(name for name in SPREADS if name.endswith("_ml"))
# What has run in and out, of the fluid outside cells, at which two thirds of the spread are there.
STIRRED: Final = 0.05
# How much a failing liver or shock slows what is burnt: at least half, perhaps to a quarter.
SLOWED: Final = Parameter(2.0, 1.3, 4.0, "times", "range of uncertainty, from memory")


@lru_cache(maxsize=8)
def responses(samples: int, series: int) -> Values:
    """How much more or less than the model one person's change is, a row for each series."""
    spread = np.random.default_rng(SEED + 1).standard_normal((series, samples))
    spread[:, 0] = 0.0
    return np.asarray(np.maximum(1 + PERSON_SHARE * spread, 0.0))


@lru_cache(maxsize=8)
def apart(samples: int, series: int) -> Values:
    """How each person stands apart from what the model says, in SDs, a row for each series."""
    spread = np.random.default_rng(SEED + 2).standard_normal((series, samples))
    spread[:, 0] = 0.0
    return np.asarray(spread)


@lru_cache(maxsize=8)
def drawn(samples: int) -> Mapping[str, Values]:
    """Each parameter for so many people; the first has every middle value. The same every time.

    Spread is log-normal between the low and high given (10th and 90th percentile).
    """
    variates = np.random.default_rng(SEED).standard_normal((len(PARAMETERS) + 1, samples))
    variates[:, 0] = 0.0
    named = {**PARAMETERS, "slowed": SLOWED}
    return {
        name: one.mid * np.exp(z * np.log(one.high / one.low) / (2 * Z_80))
        for (name, one), z in zip(named.items(), variates, strict=True)
    }
