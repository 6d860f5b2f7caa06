"""Whether insulin runs by vein."""

from typing import Final

from app.patient.case import Case

INFUSED: Final = ("infus", "units/h", "unit/h", "variable rate", "fixed rate", "iv ", "vriii")


def insulin_runs(case: Case) -> bool:
    """Insulin by vein: as an infusion, in a bag, or so written on the drug chart."""
    running = any("insulin" in (other.key, *other.contents) for other in case.co_infusions)
    in_bag = any(
        "insulin" in additive.substance.lower()
        for order in case.orders
        for additive in order.additives
    )
    charted = case.patient.medications.detail.get("insulin", "").lower()
    return running or in_bag or any(word in charted for word in INFUSED)
