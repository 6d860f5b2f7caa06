"""pH, carbon dioxide and bicarbonate that fit each other."""

from collections.abc import Mapping
from typing import Final

from app.physiology.acid_base import CO2_SOLUBILITY, PK, bicarbonate_of, ph_of
from app.physiology.course.baseline.known import OBSERVATIONS, BaselineError

# Figures that stand in for results, each with why; the why is empty for a result itself.
Reconciled = dict[str, tuple[float, str]]
# pH, carbon dioxide and bicarbonate of one gas may differ by this share and be averaged.
GAS_WITHIN: Final = 0.15
# A bicarbonate that the gas moves by more than this, mmol/L, is told.
WORTH_SAYING: Final = 0.5
# Nobody alive has less or more carbon dioxide, mmHg (common practice, no source).
LEAST_PCO2: Final = 6.0
MOST_PCO2: Final = 200.0
# Expected change of carbon dioxide for each mmol/L of bicarbonate (textbook), and its bounds.
RESPONSE_DOWN: Final = 1.2
RESPONSE_UP: Final = 0.7
LOWEST_PCO2: Final = 10.0
HIGHEST_PCO2: Final = 60.0


def gas_of(results: Mapping[str, float], usual: Mapping[str, float]) -> Reconciled:
    """Carbon dioxide and bicarbonate that fit the pH; empty without a pH.

    Raises BaselineError where the figures contradict each other.
    """
    ph, pco2 = results.get("ph"), results.get("pco2")
    if ph is None:
        return {}
    if pco2 is not None:
        return _of_ph_and_pco2(ph, pco2, results.get("bicarbonate"))
    bicarbonate, why = results.get("bicarbonate"), ""
    if bicarbonate is None and "base_excess" in results:
        bicarbonate = bicarbonate_of_excess(results["base_excess"], ph)
        why = "no bicarbonate: worked out from pH and base excess"
    if bicarbonate is None:
        return _of_ph_alone(ph, usual)
    return _of_ph_and_bicarbonate(ph, bicarbonate, why)


def bicarbonate_of_excess(base_excess_mmol_l: float, ph: float) -> float:
    """Bicarbonate, mmol/L, with this base excess of extracellular fluid (Siggaard-Andersen)."""
    return base_excess_mmol_l / 0.93 + 24.4 - 14.8 * (ph - 7.40)


def expected_pco2(bicarbonate_mmol_l: float, usual: Mapping[str, float]) -> float:
    """Carbon dioxide, mmHg, that breathing brings about with this bicarbonate."""
    change = bicarbonate_mmol_l - usual["bicarbonate"]
    slope = RESPONSE_DOWN if change < 0 else RESPONSE_UP
    return min(max(usual["pco2"] + slope * change, LOWEST_PCO2), HIGHEST_PCO2)


def _of_ph_and_pco2(ph: float, pco2: float, bicarbonate: float | None) -> Reconciled:
    worked = bicarbonate_of(ph, pco2)
    if bicarbonate is None:
        return {"bicarbonate": (worked, "no bicarbonate: worked out from pH and pCO2")}
    if abs(worked - bicarbonate) > GAS_WITHIN * bicarbonate:
        told = f"pH {ph:g}, pCO2 {pco2:g} mmHg, bicarbonate {bicarbonate:g} mmol/L"
        raise BaselineError(
            OBSERVATIONS, told, f"bicarbonate about {worked:.1f} mmol/L with this gas"
        )
    differs = abs(worked - bicarbonate) > WORTH_SAYING
    why = f"worked out from pH and pCO2; the result says {bicarbonate:g}" if differs else ""
    return {"bicarbonate": (worked, why)}


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
