"""Rates: drops, when a bag is empty, potassium, glucose and lactate by time."""

from datetime import UTC, datetime
from typing import Final

from app.physiology.formulas.formula import (
    CLOCK,
    Formula,
    Part,
    Source,
    Subject,
    Term,
    example,
)
from app.physiology.glucose import glucose_mg_kg_min
from app.physiology.rates import (
    MINUTES_PER_HOUR,
    amount_per_hour,
    drops_per_min,
    run_out_at,
    run_out_minutes,
)

# Times are told to the minute, an amount by the kilogram to its last digit.
MINUTE_TENTHS: Final = 0.05
CLOCK_MINUTE: Final = 1 / 60
THOUSANDTHS: Final = 0.0005
# A label's rounded litre of lactate, 27.7 to 28.
HUNDREDTHS: Final = 0.01
WARD_ARITHMETIC: Final = Source("arithmetic of the ward, no source", "")

RATE: Final = Term("rate_ml_h", "rate", "mL/h")
WEIGHT: Final = Term("weight_kg", "weight", "kg")

DROPS: Final = Formula(
    id="drop-rate",
    title="Drops a minute",
    terms=(
        Term("volume_ml", "volume", "mL"),
        Term("minutes", "time", "min"),
        Term("drops_per_ml", "set", "drops/mL", "as printed on the giving set"),
    ),
    sources=(WARD_ARITHMETIC,),
    misleads=(
        "Drops differ in size with the fluid; a set's figure is for water.",
        "A pressure bag, the height of the bag and the arm's position change it; count again.",
    ),
    parts=(
        Part("", "volume × set ÷ time", "drops/min", drops_per_min, (
            example(41.67, "count 42", volume_ml=1000, minutes=480, drops_per_ml=20),
            example(31.25, volume_ml=500, minutes=240, drops_per_ml=15),
            example(60, "with 60 drops a mL, drops a minute are mL an hour", volume_ml=60,
                    minutes=60, drops_per_ml=60),
        )),
    ),
)  # fmt: skip


def _empty_at(*, start_h: float, remaining_ml: float, rate_ml_h: float) -> float:
    """The hour of the day at which a bag is empty, from the hour of the day now."""
    midnight = datetime.min.replace(tzinfo=UTC)
    gone = run_out_at(midnight, remaining_ml, rate_ml_h) - midnight
    return start_h + gone.total_seconds() / MINUTES_PER_HOUR**2


RUN_OUT: Final = Formula(
    id="run-out",
    title="When a bag is empty",
    terms=(
        Term("start_h", "now", CLOCK),
        Term("remaining_ml", "left", "mL"),
        RATE,
    ),
    sources=(WARD_ARITHMETIC,),
    misleads=("Bags hold 3 to 10% more than they say, so the last of it comes later.",),
    parts=(
        Part("Time left", "left ÷ rate × 60", "min", run_out_minutes, (
            example(312, "5 h 12 min", remaining_ml=650, rate_ml_h=125),
            example(28.7, within=MINUTE_TENTHS, remaining_ml=80, rate_ml_h=167),
        )),
        Part("Empty at", "now + time left", CLOCK, _empty_at, (
            example(19.2, within=CLOCK_MINUTE, start_h=14, remaining_ml=650, rate_ml_h=125),
        )),
    ),
)  # fmt: skip


def _per_kg_h(*, rate_ml_h: float, amount_per_l: float, weight_kg: float) -> float:
    return amount_per_hour(rate_ml_h, amount_per_l) / weight_kg


POTASSIUM: Final = Formula(
    id="potassium-rate",
    title="Potassium by the hour",
    terms=(RATE, Term("amount_per_l", "strength", "mmol/L"), WEIGHT),
    sources=(
        WARD_ARITHMETIC,
        Source("US label: up to 10 mmol/h and 200 mmol in 24 h above 2.5 mmol/L; up to 40 and 400 "
               "under 2 mmol/L with signs, watched", "quoted, seen"),
    ),
    misleads=(
        "Add every source: bags, additives, drugs, nutrition.",
        "It says nothing of where plasma potassium goes: cells and kidneys decide.",
    ),
    parts=(
        Part("An hour", "rate × strength ÷ 1000", "mmol/h", amount_per_hour, (
            example(5.0, rate_ml_h=125, amount_per_l=40),
            example(20.0, "100 mL in an hour", rate_ml_h=100, amount_per_l=200),
        )),
        Part("An hour for each kilogram", "rate × strength ÷ 1000 ÷ weight", "mmol/kg/h",
             _per_kg_h, (
            example(0.071, within=THOUSANDTHS, rate_ml_h=125, amount_per_l=40, weight_kg=70),
        )),
    ),
)  # fmt: skip

GLUCOSE: Final = Formula(
    id="glucose-rate",
    title="Glucose by weight and minute",
    terms=(RATE, Term("glucose_g_l", "strength", "g/L"), WEIGHT),
    sources=(
        Source("usual definition; limits of nutrition guidelines: adults to 5 (intensive care 4), "
               "newborns from 4 to 8 up to 12 mg/kg/min"),
    ),
    misleads=(
        "Labelled grams of the monohydrate burn as a tenth less.",
        "Add every source of glucose, nutrition and drug diluents too.",
    ),
    parts=(
        Part("", "rate × strength ÷ (60 × weight)", "mg/kg/min", glucose_mg_kg_min, (
            example(2.381, "10% dextrose", rate_ml_h=100, glucose_g_l=100, weight_kg=70),
            example(5.000, "10% dextrose, newborn", rate_ml_h=9, glucose_g_l=100, weight_kg=3),
            example(1.488, "5% dextrose, grams as labelled", rate_ml_h=125, glucose_g_l=50,
                    weight_kg=70),
            example(1.353, "the same as anhydrous glucose", rate_ml_h=125, glucose_g_l=45.46,
                    weight_kg=70),
        )),
    ),
)  # fmt: skip

LACTATE: Final = Formula(
    id="lactate-rate",
    title="Lactate given by the hour",
    terms=(RATE, Term("amount_per_l", "strength", "mmol/L"), WEIGHT),
    sources=(Source("a body at rest turns over about 0.8 to 1 mmol/kg/h, with a large reserve; "
                    "uncertain"),),
    misleads=(
        "Reserve is what counts: several times the turnover in health, far less in liver failure "
        "and shock.",
    ),
    parts=(
        Part("An hour", "rate × strength ÷ 1000", "mmol/h", amount_per_hour, (
            example(56, "2 L/h of lactated Ringer's", rate_ml_h=2000, amount_per_l=28),
        )),
        Part("An hour for each kilogram", "rate × strength ÷ 1000 ÷ weight", "mmol/kg/h",
             _per_kg_h, (
            example(0.8, "about one turnover at rest", rate_ml_h=2000, amount_per_l=28,
                    weight_kg=70),
        )),
    ),
)  # fmt: skip

SUBJECT: Final = Subject("Rates and bags", (DROPS, RUN_OUT, POTASSIUM, GLUCOSE, LACTATE))
