"""Cold fluid by the litre."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.source import Source
from app.cautions.cited import PRACTICE
from app.cautions.phrases import number
from app.cautions.rule import Finding, Limit, Limits, Rule
from app.cautions.shared.flow import whole_volume_ml
from app.cautions.shared.lines import blood_of
from app.patient.case import Case

WARMING: Final = Source("NICE CG65, Hypothermia around surgery, 2008, updated 2016", seen=False)


def fast_and_cold(case: Case, limits: Limits) -> Iterator[Finding]:
    """A litre an hour or more, or several units of blood, and no warmer written."""
    said = [order.written + order.purpose_written for order in case.orders]
    said += [other.name for other in case.co_infusions]
    if any("warm" in text.lower() for text in said) or "cardiac_arrest" in case.patient.conditions:
        return
    fast = [
        order
        for order in case.orders
        if (order.rate_ml_h or 0) > limits["rate_ml_h"]
        and (whole_volume_ml(order) or 0) >= limits["volume_ml"]
    ]
    units = sum(blood.units or 0 for blood in blood_of(case))
    if not fast and units < limits["units"]:
        return
    rate = max((order.rate_ml_h or 0 for order in fast), default=0.0)
    what = f"{number(rate)} mL/h" if fast else f"{number(units)} units of blood"
    yield Finding(
        "info",
        f"{what}, and no warmer is written.",
        f"{what}; cold fluid lowers temperature and hinders clotting.",
        figures={"rate_ml_h": rate} if fast else {"units": units},
        limits=("rate_ml_h", "volume_ml") if fast else ("units",),
        order_ids=tuple(order.id for order in fast),
    )


RULES: Final = (
    Rule(
        id="warm-rapid",
        title="Fast cold fluid",
        trigger="A litre or more at above 1000 mL/h, or four units of blood or more, with no "
        "warmer in the order's words.",
        unless="a warmer is in use, or cooling is meant after cardiac arrest",
        do="Warm the fluid.",
        evidence="A litre at room temperature lowers an adult's by about a quarter of a degree.",
        sources=(WARMING, PRACTICE),
        limits=(
            Limit("rate_ml_h", 1000, "mL/h", "rate that cools"),
            Limit("volume_ml", 1000, "mL", "volume that cools", PRACTICE),
            Limit("units", 4, "units", "blood that cools", PRACTICE),
        ),
        levels=("info",),
        for_patient=fast_and_cold,
    ),
)
