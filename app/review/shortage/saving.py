"""What saves fluid in a shortage, and whom here it concerns. Pure."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from app.catalogue.source import NO_SOURCE, Source
from app.cautions.facts import CARRIER_ML_H
from app.patient.case import Case
from app.patient.order import Order
from app.review.running.orders import goes_on

PRACTICE: Final = Source(NO_SOURCE)
CHEST_TIPS: Final = Source(
    "American Thoracic Society, tips for hospitals in a shortage of intravenous fluids, "
    "October 2024",
    "seen as a news summary",
    seen=True,
)
PHARMACISTS_SHEET: Final = Source(
    "ASHP and University of Utah, Fluid shortages: suggestions for management and conservation, "
    "2024",
    "conservation of large bags",
    seen=False,
)
DRINKS: Final = "drinking"
NOTHING_BY_MOUTH: Final = "nil_by_mouth"
# Swallowing is not to be asked of these, whatever else is written.
NEVER_BY_MOUTH: Final = (NOTHING_BY_MOUTH, "cardiac_arrest", "shock", "septic_shock")


@dataclass(frozen=True, slots=True)
class Measure:
    """One thing that saves fluid. key: stable; here: which orders it is to be asked of, where an
    order can tell; source: where it is from.
    """

    key: str
    words: str
    here: Callable[[Order, Case], bool] | None = None
    source: Source = PRACTICE


def may_drink(case: Case) -> bool:
    """Recorded as drinking, and nothing recorded that speaks against it."""
    conditions = case.patient.conditions
    return DRINKS in conditions and not any(key in conditions for key in NEVER_BY_MOUTH)


def _may_drink(order: Order, case: Case) -> bool:
    return may_drink(case) and not order.is_bolus


def review_is_due(order: Order, case: Case) -> bool:
    """Its review time has come, or it goes on with none."""
    if order.review_at is not None:
        return order.review_at <= case.now
    return goes_on(order, case)


def keeps_a_line_open(order: Order, case: Case) -> bool:
    """It runs so slowly that it only keeps a line open, or carries a drug."""
    del case
    slow = order.rate_ml_h is not None and order.rate_ml_h <= CARRIER_ML_H
    return slow and order.purpose in ("carrier", None)


MEASURES: Final = (
    Measure(
        "oral",
        "By mouth or tube instead, wherever the patient can drink: ask at each round.",
        _may_drink,
        CHEST_TIPS,
    ),
    Measure(
        "review",
        "Review the need of every fluid each day, and give each order an end.",
        review_is_due,
        CHEST_TIPS,
    ),
    Measure(
        "line",
        "Cap and flush a cannula instead of keeping it open with a bag, unless the bag carries a "
        "drug.",
        keeps_a_line_open,
    ),
    Measure(
        "carriers",
        "Give drugs in the smallest carrier their label allows, or as a slow injection where it "
        "allows that: pharmacy knows which.",
    ),
    Measure(
        "slow",
        "For a slow rate hang one smaller bag a day, not a large one that is discarded part full.",
        source=CHEST_TIPS,
    ),
    Measure("hang", "Spike a bag only when it is to be hung.", source=CHEST_TIPS),
    Measure(
        "electrolytes",
        "Replace potassium, magnesium and phosphate by mouth where result and gut allow it.",
        source=CHEST_TIPS,
    ),
)
NOT_TWO_SMALL: Final = Measure(
    "not-two-small",
    "Two bags of 500 mL in the place of one of 1 L are not proposed: they only move the shortage "
    "to the smaller bags.",
    source=PHARMACISTS_SHEET,
)
