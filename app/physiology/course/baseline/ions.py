"""Every result that a course starts from; what was not measured fits what was."""

from collections.abc import Mapping
from typing import Final

from app.physiology.course.baseline.gas import expected_pco2, gas_of
from app.physiology.course.baseline.known import OBSERVATIONS, Assumed, BaselineError
from app.physiology.course.sizes import UNITS

MMOL_L: Final = "mmol/L"
# A remainder of anions outside this cannot be: a result is wrong, or its unit.
LEAST_REST: Final = -4.0
MOST_REST: Final = 45.0
# A bicarbonate that nobody measured is taken so that the remainder is within these, mmol/L, and
# it within what is seen (common practice, no source).
LEAST_TAKEN: Final = 4.0
MOST_TAKEN: Final = 26.0
LEAST_BICARBONATE: Final = 4.0
MOST_BICARBONATE: Final = 50.0


def chemistry_of(
    results: Mapping[str, float], usual: Mapping[str, float], assumed: list[Assumed]
) -> dict[str, float]:
    """Results by name: measured, of the gas, or as usual; what is not measured goes on `assumed`.

    Raises BaselineError where results contradict each other.
    """
    gas = gas_of(results, usual)
    known = {name: results[name] for name in usual if name in results}
    known |= {name: value for name, (value, _) in gas.items()}
    taken = {name: why for name, (_, why) in gas.items() if why}
    for name in usual:
        if name not in known:
            known[name], taken[name] = _taken(name, known, usual)
    assumed.extend(
        Assumed(name, known[name], UNITS.get(name, MMOL_L), taken[name])
        for name in usual
        if name in taken
    )
    return known


def rest_mmol_l(known: Mapping[str, float], usual: Mapping[str, float]) -> float:
    """Anions that nobody measured, bicarbonate among them where it is not known, mmol/L."""
    sodium, potassium, chloride, lactate = (
        known.get(name, usual[name]) for name in ("sodium", "potassium", "chloride", "lactate")
    )
    return sodium + potassium - chloride - lactate - known.get("bicarbonate", 0.0)


def check_charges(known: Mapping[str, float], usual: Mapping[str, float]) -> None:
    """There is a least and a most of the anions nobody measured; BaselineError outside them."""
    rest = rest_mmol_l(known, usual)
    if not LEAST_REST <= rest <= MOST_REST:
        told = (
            f"sodium {known['sodium']:g}, chloride {known['chloride']:g}, "
            f"bicarbonate {known['bicarbonate']:.3g}, lactate {known['lactate']:g} mmol/L"
        )
        accepted = f"a gap of {LEAST_REST:g} to {MOST_REST:g} mmol/L, not {rest:.0f}"
        raise BaselineError(OBSERVATIONS, told, accepted)


def _taken(name: str, known: Mapping[str, float], usual: Mapping[str, float]) -> tuple[float, str]:
    """A value for what nobody measured, and why this one."""
    if name == "chloride" and known["sodium"] != usual["sodium"]:
        value = max(usual[name] + known["sodium"] - usual["sodium"], 0.0)
        return value, "no chloride: a usual value, moved as far as sodium is from usual"
    if name == "bicarbonate":
        rest = rest_mmol_l(known, usual)
        value = min(max(usual[name], rest - MOST_TAKEN), rest - LEAST_TAKEN)
        value = min(max(value, LEAST_BICARBONATE), MOST_BICARBONATE)
        if value != usual[name]:
            return value, "no bicarbonate: what the other ions leave room for"
    if name == "pco2" and known["bicarbonate"] != usual["bicarbonate"]:
        value = expected_pco2(known["bicarbonate"], usual)
        return value, "no pCO2: what breathing brings about with this bicarbonate"
    return usual[name], f"no {name}: a usual value"
