"""What a course leaves out: first what concerns this patient and these loads, then the rest."""

from collections.abc import Iterator, Sequence
from typing import Final

from app.physiology.course.body import Subject
from app.physiology.course.kidneys.defended import KEEP_WATER, PASS_NO_SALT
from app.physiology.course.loads import Load

NOT_MODELLED: Final = (
    "drugs, but for soluble insulin into a vein whose dose is written (diuretics and vasoactive "
    "drugs are not)",
    "eating and drinking",
    "calcium, magnesium and phosphate: what is given is counted as charge, and none of them is "
    "predicted",
    "urea: neither made nor passed, and taken to pull no water",
    "glucose that was high at the start: taken as steady, and the urine that it drives as replaced",
    "ketones, and the acid that goes with them",
    "acid, lactate and potassium that an illness makes beyond what it makes at the start",
    "leaky vessels in sepsis and burns", "posture", "breathing, unless it is told to respond",
)  # fmt: skip
KIDNEYS_FAIL: Final = (
    "kidneys are on record as failing: unless urine is given, about a tenth of what health passes "
    "is passed (3 to 30%); potassium may rise more than its middle line, and stay up, for the "
    "potassium that the body goes on making is not counted"
)
NO_URINE: Final = (
    "no urine is on record: nothing is passed; potassium may rise more than its middle line, and "
    "stay up, for the potassium that the body goes on making is not counted"
)
KETOACIDOSIS: Final = (
    "ketoacidosis: ketones clear with insulin and are not counted, so that bicarbonate, pH and "
    "base excess are not predicted"
)
LEAKS: Final = "vessels leak in {}: less stays in plasma than is shown, not known how much"
LEAKING: Final = (
    ("septic_shock", "septic shock"), ("sepsis", "sepsis"), ("major_burns", "burns"),
    ("burns", "burns"),
)  # fmt: skip
AFTER_SURGERY: Final = (
    "after surgery water is kept for days, and vessels leak: sodium may fall further, and less may "
    "stay in plasma"
)
WATER_KEPT: Final = (
    "on record is what makes kidneys keep water: next to none is passed in the middle line, and "
    "none at the low end of sodium"
)
LOW_SODIUM: Final = (
    "sodium is low at the start: kidneys are taken to pass no water; once the cause is gone they "
    "may pass it fast, and sodium rises with it. Urine over 100 mL/h: sodium now"
)
HIGH_GLUCOSE: Final = (
    "glucose drives urine that is not counted: salt, water and potassium may go that are not shown"
)
BLEEDING: Final = "how much bleeds, and clotting as blood thins"
HAS_DIVALENT: Final = "calcium and magnesium that are given: no line shows what they do"
HIGH_GLUCOSE_MMOL_L: Final = 14.0
THIN_BY_MMOL_L: Final = 5.0
DIVALENT_MUCH_MMOL_L: Final = 5.0


def left_out_of(subject: Subject, loads: Sequence[Load]) -> tuple[str, ...]:
    """Most pressing first."""
    first = (*_of_organs(subject), *_of_water_and_sugar(subject))
    if any(_holds_divalent(load) for load in loads):
        first = (*first, HAS_DIVALENT)
    return (*first, *NOT_MODELLED)


def _of_organs(subject: Subject) -> Iterator[str]:
    ills = subject.conditions
    if subject.kidneys_fail:
        yield NO_URINE if subject.anuric else KIDNEYS_FAIL
    if "diabetic_ketoacidosis" in ills:
        yield KETOACIDOSIS
    leaking = next((words for key, words in LEAKING if key in ills), None)
    if leaking:
        yield LEAKS.format(leaking)
    if "haemorrhage" in ills:
        yield BLEEDING


def _of_water_and_sugar(subject: Subject) -> Iterator[str]:
    ills = subject.conditions
    if subject.sodium_mmol_l < subject.usual["sodium"] - THIN_BY_MMOL_L:
        yield LOW_SODIUM
    if "postoperative" in ills:
        yield AFTER_SURGERY
    elif not ills.isdisjoint(KEEP_WATER - PASS_NO_SALT):
        yield WATER_KEPT
    if subject.glucose_mmol_l > HIGH_GLUCOSE_MMOL_L:
        yield HIGH_GLUCOSE


def _holds_divalent(load: Load) -> bool:
    fluid = load.composition
    return fluid.calcium_mmol_l + fluid.magnesium_mmol_l > DIVALENT_MUCH_MMOL_L
