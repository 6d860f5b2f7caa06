"""What follows from two infusions sharing a line: how loud to be, and how to say it."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from app.cautions.rule import Level
from app.patient.case import Case
from app.patient.order import CoInfusion
from app.patient.sharing import Sharing

NOT_CITRATED: Final = ("albumin", "immunoglobulin")
WITH_RED_CELLS: Final = ("red_cells", "whole_blood", "")
SHARED: Final[tuple[Sharing, ...]] = ("together", "one lumen")
# Loud only where it is known that they meet; ways that are not here are silent.
LEVEL: Final[Mapping[Sharing, Level]] = MappingProxyType(
    {"together": "critical", "one lumen": "critical", "not known": "warning", "room": "info"}
)
HOW: Final[Mapping[Sharing, str]] = MappingProxyType(
    {
        "together": "shares a line with",
        "one lumen": "shares the only lumen with",
        "not known": "may share a line with",
        "room": "needs another lumen than",
    }
)


def is_blood(other: CoInfusion) -> bool:
    """True for a citrated component, or blood whose kind is not understood; never albumin."""
    if other.key in NOT_CITRATED:
        return False
    return other.kind == "blood" or "blood" in other.contents


def blood_of(case: Case) -> tuple[CoInfusion, ...]:
    """The blood components that run."""
    return tuple(other for other in case.co_infusions if is_blood(other))


def red_cells_of(case: Case) -> tuple[CoInfusion, ...]:
    """Red cells, whole blood, or blood of a kind that is not understood."""
    return tuple(blood for blood in blood_of(case) if blood.key in WITH_RED_CELLS)


def place_text(way: Sharing, other: CoInfusion) -> str:
    """What was told of the lumens, as a sentence."""
    if way == "together":
        return f"Both run on {other.lumen}." if other.lumen else "They are written to run together."
    if way == "one lumen":
        return "The patient has one lumen and no flush between the two is written."
    if way == "room":
        return "It is not written which lumen each one runs on; each can have its own."
    return "It is not written which lumen each one runs on."
