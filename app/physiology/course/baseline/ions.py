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
# What nobody measured is taken so that the remainder is within these, mmol/L, and it within what
# is seen (common practice, no source).
LEAST_TAKEN: Final = 4.0
MOST_TAKEN: Final = 26.0
LEAST_BICARBONATE: Final = 4.0
MOST_BICARBONATE: Final = 50.0
LEAST_SODIUM: Final = 90.0
MOST_SODIUM: Final = 200.0


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
        for name in (*usual, "ph")
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
        accepted = f"a gap of {LEAST_REST:g} to {MOST_REST:g} mmol/L, not {rest:.3g}"
        raise BaselineError(OBSERVATIONS, told, accepted)


def _taken(name: str, known: Mapping[str, float], usual: Mapping[str, float]) -> tuple[float, str]:
    """A value for what nobody measured, and why this one."""
    if name == "sodium":
        return _sodium(known, usual)
    if name == "chloride":
        return _chloride(known, usual)
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


def _sodium(known: Mapping[str, float], usual: Mapping[str, float]) -> tuple[float, str]:
    """The usual sodium, or the nearest to it that leaves room for the anions measured.

    A bicarbonate that nobody measured may still be anything that is seen.
    """
    value, free = usual["sodium"], "bicarbonate" not in known
    if "chloride" in known:
        others = value - rest_mmol_l(known, usual)
        least = others + LEAST_TAKEN + (LEAST_BICARBONATE if free else 0.0)
        most = others + MOST_TAKEN + (MOST_BICARBONATE if free else 0.0)
        value = min(max(min(max(value, least), most), LEAST_SODIUM), MOST_SODIUM)
    if value != usual["sodium"]:
        return value, "no sodium: what the anions measured need"
    return value, "no sodium: a usual value"


def _chloride(known: Mapping[str, float], usual: Mapping[str, float]) -> tuple[float, str]:
    """As far from usual as sodium is, but no more than the other anions leave room for."""
    value = max(usual["chloride"] + known["sodium"] - usual["sodium"], 0.0)
    room = rest_mmol_l({**known, "chloride": 0.0}, usual) - LEAST_TAKEN
    if value > room:
        return max(room, 0.0), "no chloride: what the other ions leave room for"
    if value != usual["chloride"]:
        return value, "no chloride: a usual value, moved as far as sodium is from usual"
    return value, "no chloride: a usual value"
