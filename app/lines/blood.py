"""The time limits of blood that has left its fridge."""

from typing import Final

from app.catalogue.source import Source
from app.lines.model import Infusion

GUIDANCE: Final = Source(
    "British Society for Haematology, administration of blood components, 2017",
    "start within 30 min of leaving temperature control, end within 4 h",
    seen=False,
)
START_WITHIN_MIN: Final = 30
DONE_WITHIN_MIN: Final = 240


def too_long(blood: Infusion) -> bool:
    """True for blood that takes longer than it may be out of its fridge."""
    return blood.kind == "blood" and (blood.duration_min or 0) > DONE_WITHIN_MIN
