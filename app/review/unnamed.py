"""What runs beside the fluids under a name that leaves open what it is: never passed over."""

import re
from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Final

from app.cautions.assess import Found
from app.cautions.data_rules import ORDER_AMBIGUOUS
from app.cautions.phrases import listed, short
from app.cautions.rule import Finding
from app.cautions.shared.fluid_facts import newborn
from app.cautions.shared.lines import HOW, SHARED
from app.cautions.shared.substances import (
    Infusion,
    infusions_of,
    name_of,
    order_ids_of,
    way_between,
)
from app.patient.case import Case
from app.patient.known import NotKnown
from app.patient.order import CoInfusion, Order
from app.patient.sharing import CLOSEST_FIRST, Sharing
from app.physiology.calcium import order_brings_calcium, other_brings_calcium

NO_LIMITS: Final[Mapping[str, float]] = MappingProxyType({})
# A name that ceftriaxone may stand behind: then calcium on the line decides.
MAY_BE_CEFTRIAXONE: Final = re.compile(
    r"\bcef|\bceph|antibiotic|antibx|\babx|antimicrobial|beta[- ]?lactam", re.IGNORECASE
)


def unnamed(case: Case) -> Iterator[Found]:
    """One finding for each name not understood that shares a line or may share one.

    Loud where the drug may be ceftriaxone and calcium runs with it: then the answer decides.
    """
    for other in case.co_infusions:
        if not other.ask or other.carried_by:
            continue
        met = _met(case, other)
        if met:
            yield Found(ORDER_AMBIGUOUS, _finding(case, other, met), NO_LIMITS)


def _met(case: Case, other: CoInfusion) -> list[tuple[Sharing, Infusion]]:
    """What it shares a line with or may, the surest first; in a newborn all that runs."""
    beside = ((way_between(case, one, other), one) for one in infusions_of(case) if one != other)
    everywhere = newborn(case.patient)
    shared = [(way, one) for way, one in beside if way in HOW or everywhere]
    return sorted(shared, key=lambda pair: CLOSEST_FIRST.index(pair[0]))


def _finding(case: Case, other: CoInfusion, met: list[tuple[Sharing, Infusion]]) -> Finding:
    way, nearest = met[0]
    calcium = [one for how, one in met if _brings_calcium(one) and _matters(case, how)]
    loud = bool(calcium) and _may_be_ceftriaxone(other)
    name = short(other.name)
    how = HOW.get(way, "is given beside")
    why = f"{other.ask} It {how} {listed(tuple(name_of(one) for _, one in met))}."
    if loud:
        why += " Ceftriaxone and calcium form crystals in one line."
    return Finding(
        "warning" if loud else "info",
        f"“{name}” {how} {short(name_of((calcium or [nearest])[0]))}: not clear what it is.",
        why,
        figures={"line": way},
        do=f"Ask the prescriber: {other.ask}",
        order_ids=order_ids_of(*(one for _, one in met)),
    )


def _matters(case: Case, way: Sharing) -> bool:
    """In a newborn calcium and ceftriaxone are kept apart whatever the line."""
    return way in SHARED or newborn(case.patient)


def _may_be_ceftriaxone(other: CoInfusion) -> bool:
    is_open = other.key == "" or other.key in ("antibiotic", "cephalosporin")
    return is_open and bool(MAY_BE_CEFTRIAXONE.search(other.name))


def _brings_calcium(one: Infusion) -> bool:
    try:
        return order_brings_calcium(one) if isinstance(one, Order) else other_brings_calcium(one)
    except NotKnown:
        return False
