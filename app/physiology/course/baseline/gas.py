"""pH, carbon dioxide and bicarbonate that fit each other."""

from collections.abc import Mapping
from typing import Final

from app.physiology.acid_base import (
    CO2_SOLUBILITY,
    HIGHEST_PH,
    LOWEST_PH,
    PH_PRECISION,
    PK,
    bicarbonate_of,
    ph_of,
    standard_base_excess_mmol_l,
)
from app.physiology.course.baseline.known import OBSERVATIONS, BaselineError

# Figures that stand in for results, each with why; the why is empty for a result itself.
Reconciled = dict[str, tuple[float, str]]
# The bicarbonate of pH and carbon dioxide may differ from the one given by this share: of such a
# gas the pH is dropped. Beyond it a figure is wrong, or of another sample (common practice, no
# source).
GAS_WITHIN: Final = 1 / 3
# A pH that is moved by more than this is told: rounding, and the solubility of carbon dioxide,
# which analysers take from 0.0301 to 0.0307, come to as much.
WORTH_SAYING: Final = 0.015
# Nobody alive has less or more carbon dioxide, mmHg (common practice, no source).
LEAST_PCO2: Final = 6.0
MOST_PCO2: Final = 200.0
# Expected change of carbon dioxide for each mmol/L of bicarbonate (textbook), and its bounds.
RESPONSE_DOWN: Final = 1.2
RESPONSE_UP: Final = 0.7
LOWEST_PCO2: Final = 10.0
HIGHEST_PCO2: Final = 60.0
# Base excess of extracellular fluid, as in app/physiology/acid_base.py.
EXCESS_SHARE, EXCESS_BICARBONATE, EXCESS_PER_PH, NORMAL_PH = 0.93, 24.4, 14.8, 7.40
OF_A_GAS: Final = ("ph", "pco2", "bicarbonate", "base_excess")


def gas_of(results: Mapping[str, float], usual: Mapping[str, float]) -> Reconciled:
    """What else a gas says, and what of it is dropped; empty where it says no more.

    Where pH, carbon dioxide and bicarbonate differ, the pH is the one dropped. A base excess
    stands in for what it takes to solve the rest, and says nothing alone. Raises BaselineError
    where the figures contradict each other.
    """
    ph, pco2, bicarbonate, excess = map(results.get, OF_A_GAS)
    if pco2 is not None and bicarbonate is not None:
        return {} if ph is None else _without_ph(ph, pco2, bicarbonate)
    if ph is None:
        return {} if excess is None else _of_excess(excess, pco2, bicarbonate)
    if pco2 is not None:
        why = "no bicarbonate: worked out from pH and pCO2"
        return {"bicarbonate": (bicarbonate_of(ph, pco2), why)}
    if bicarbonate is not None:
        return _of_ph_and_bicarbonate(ph, bicarbonate, "")
    if excess is None:
        return _of_ph_alone(ph, usual)
    why = "no bicarbonate: worked out from pH and base excess"
    return _of_ph_and_bicarbonate(ph, bicarbonate_of_excess(excess, ph), why)


def bicarbonate_of_excess(base_excess_mmol_l: float, ph: float) -> float:
    """Bicarbonate, mmol/L, with this base excess of extracellular fluid (Siggaard-Andersen)."""
    return base_excess_mmol_l / EXCESS_SHARE + EXCESS_BICARBONATE - EXCESS_PER_PH * (ph - NORMAL_PH)


def expected_pco2(bicarbonate_mmol_l: float, usual: Mapping[str, float]) -> float:
    """Carbon dioxide, mmHg, that breathing brings about with this bicarbonate."""
    change = bicarbonate_mmol_l - usual["bicarbonate"]
    slope = RESPONSE_DOWN if change < 0 else RESPONSE_UP
    return min(max(usual["pco2"] + slope * change, LOWEST_PCO2), HIGHEST_PCO2)


def _without_ph(ph: float, pco2: float, bicarbonate: float) -> Reconciled:
    """Carbon dioxide and bicarbonate as measured, and the pH that goes with them."""
    worked = bicarbonate_of(ph, pco2)
    if abs(worked - bicarbonate) > GAS_WITHIN * bicarbonate:
        told = f"pH {ph:g}, pCO2 {pco2:g} mmHg, bicarbonate {bicarbonate:g} mmol/L"
        accepted = f"bicarbonate about {worked:.1f} mmol/L with this gas, give or take a third"
        raise BaselineError(OBSERVATIONS, told, accepted)
    fits = ph_of(bicarbonate, pco2)
    if abs(fits - ph) <= WORTH_SAYING:
        return {}
    return {"ph": (fits, f"of bicarbonate and pCO2 as measured; the result says {ph:g}")}


def _of_excess(excess: float, pco2: float | None, bicarbonate: float | None) -> Reconciled:
    """What base excess says with one other figure; nothing where no gas has both."""
    if bicarbonate is not None:
        ph = NORMAL_PH + (excess / EXCESS_SHARE + EXCESS_BICARBONATE - bicarbonate) / EXCESS_PER_PH
        worked = max(bicarbonate, 0.0) / (CO2_SOLUBILITY * 10 ** (ph - PK))
        why = "no pCO2: worked out from bicarbonate and base excess"
        return {"pco2": (worked, why)} if LEAST_PCO2 <= worked <= MOST_PCO2 else {}
    if pco2 is None:
        return {}
    found = bicarbonate_of(_ph_of_excess(excess, pco2), pco2)
    return {"bicarbonate": (found, "no bicarbonate: worked out from pCO2 and base excess")}


def _ph_of_excess(excess: float, pco2: float) -> float:
    """The pH with this base excess and carbon dioxide: base excess rises steadily with pH."""
    low, high = LOWEST_PH, HIGHEST_PH
    while high - low > PH_PRECISION:
        middle = (low + high) / 2
        if standard_base_excess_mmol_l(bicarbonate_of(middle, pco2), middle) < excess:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def _of_ph_and_bicarbonate(ph: float, bicarbonate: float, why: str) -> Reconciled:
    worked = max(bicarbonate, 0.0) / (CO2_SOLUBILITY * 10 ** (ph - PK))
    if not LEAST_PCO2 <= worked <= MOST_PCO2:
        told = f"pH {ph:g} with bicarbonate {bicarbonate:.3g} mmol/L"
        accepted = f"figures with a pCO2 of {LEAST_PCO2:g} to {MOST_PCO2:g} mmHg, not {worked:.0f}"
        raise BaselineError(OBSERVATIONS, told, accepted)
    return {
        "bicarbonate": (bicarbonate, why),
        "pco2": (worked, "no pCO2: worked out from pH and bicarbonate"),
    }


def _of_ph_alone(ph: float, usual: Mapping[str, float]) -> Reconciled:
    """Both as far from usual: whether breathing or metabolism moved the pH is not known."""
    both = 10 ** ((ph - ph_of(usual["bicarbonate"], usual["pco2"])) / 2)
    why = "only a pH: breathing and metabolism are taken to have moved it alike"
    return {
        "bicarbonate": (usual["bicarbonate"] * both, why),
        "pco2": (usual["pco2"] / both, why),
    }
