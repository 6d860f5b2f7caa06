"""The time limits of blood that has left its fridge: a window for a plan, and a check of one."""

from typing import Final

from app.catalogue.source import Source
from app.lines.model import Infusion, Run

GUIDANCE: Final = Source(
    "British Society for Haematology, administration of blood components, 2017",
    "start within 30 min of leaving temperature control, end within 4 h",
    seen=False,
)
START_WITHIN_MIN: Final = 30
DONE_WITHIN_MIN: Final = 240


def blood_window(leaves_fridge_min: int, duration_min: int) -> tuple[int, int]:
    """Earliest start and latest end, min, of blood that leaves its fridge at a minute.

    A component that takes longer than it may has a window shorter than itself.
    """
    latest_start_min = leaves_fridge_min + START_WITHIN_MIN
    done_min = leaves_fridge_min + DONE_WITHIN_MIN
    return leaves_fridge_min, min(latest_start_min + duration_min, done_min)


def blood_faults(blood: Infusion, run: Run, leaves_fridge_min: int) -> tuple[str, ...]:
    """What a run breaks, in sentences; empty when it keeps both limits."""
    waited_min = run.start_min - leaves_fridge_min
    out_min = run.end_min - leaves_fridge_min
    found = []
    if waited_min < 0:
        found.append(f"{blood.name} would start before it leaves the fridge")
    if waited_min > START_WITHIN_MIN:
        found.append(
            f"{blood.name} would start {waited_min} min after leaving the fridge; at most "
            f"{START_WITHIN_MIN}"
        )
    if out_min > DONE_WITHIN_MIN:
        found.append(
            f"{blood.name} would end {out_min} min after leaving the fridge; at most "
            f"{DONE_WITHIN_MIN}"
        )
    return tuple(found)


def too_long(blood: Infusion) -> bool:
    """True for blood that takes longer than it may be out of its fridge."""
    return blood.kind == "blood" and (blood.duration_min or 0) > DONE_WITHIN_MIN
