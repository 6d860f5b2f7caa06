"""What a day needs: maintenance of children and adults, newborns, and burns."""

from typing import Final

from app.physiology.burns import parkland
from app.physiology.formulas.formula import Formula, Part, Source, Subject, Term, example
from app.physiology.maintenance import (
    HOURS_PER_DAY,
    adult_need,
    maintenance_4_2_1_ml_h,
    maintenance_ml_day,
    newborn_ml_kg_day,
)

WEIGHT: Final = Term("weight_kg", "weight", "kg")


def _by_day_ml_h(*, weight_kg: float) -> float:
    return maintenance_ml_day(weight_kg) / HOURS_PER_DAY


MAINTENANCE: Final = Formula(
    id="maintenance",
    title="Maintenance water of a child",
    terms=(WEIGHT,),
    sources=(
        Source("Holliday and Segar, Pediatrics 1957;19:823"),
        Source("4-2-1 by the hour is bedside practice; the caps are of NICE NG29"),
    ),
    misleads=(
        "The two forms differ by up to 4%: choose one and say so.",
        "Not for newborns. Large children are capped at about 2,500 mL (male) or 2,000 mL "
        "(female) a day.",
        "The ill often need less, since they keep water; losses come on top.",
    ),
    parts=(
        Part(
            "By the day",
            "100 mL/kg for the first 10 kg, 50 for the next 10, 20 for each kg above",
            "mL/day",
            maintenance_ml_day,
            tuple(example(ml, weight_kg=kg) for kg, ml in
                  ((8, 800), (15, 1250), (25, 1600), (40, 1900))),
        ),
        Part(
            "The day's volume by the hour", "by the day ÷ 24", "mL/h", _by_day_ml_h,
            tuple(example(ml, weight_kg=kg) for kg, ml in
                  ((8, 33.33), (15, 52.08), (25, 66.67), (40, 79.17))),
        ),
        Part(
            "4-2-1",
            "4 mL/kg for the first 10 kg, 2 for the next 10, 1 for each kg above",
            "mL/h",
            maintenance_4_2_1_ml_h,
            tuple(example(ml, weight_kg=kg) for kg, ml in ((8, 32), (15, 50), (25, 65), (40, 80))),
        ),
    ),
)  # fmt: skip


def _newborn_low(*, day: float) -> float:
    return newborn_ml_kg_day(int(day))[0]


def _newborn_high(*, day: float) -> float:
    return newborn_ml_kg_day(int(day))[1]


# Day of life, and the lowest and highest water.
NEWBORN_DAYS: Final = ((1, 50, 60), (2, 70, 80), (3, 80, 100), (4, 100, 120), (5, 120, 150),
                       (28, 120, 150))  # fmt: skip

NEWBORN: Final = Formula(
    id="newborn-water",
    title="Water of a term newborn",
    terms=(Term("day", "day", "", "day of life; the day of birth is day 1"),),
    sources=(Source("NICE NG29 (2015, updated 2020)"),),
    misleads=("Term newborns only; phototherapy, a warmer, asphyxia and prematurity change it.",),
    parts=tuple(
        Part(name, "by the day of life: 50 to 60, 70 to 80, 80 to 100, 100 to 120, then 120 to "
             "150 mL/kg", "mL/kg/day", work,
             tuple(example(row[column], day=row[0]) for row in NEWBORN_DAYS))
        for name, work, column in (("Least", _newborn_low, 1), ("Most", _newborn_high, 2))
    ),
)  # fmt: skip


def _adult_low(*, weight_kg: float) -> float:
    return adult_need(weight_kg).water_low_ml


def _adult_high(*, weight_kg: float) -> float:
    return adult_need(weight_kg).water_high_ml


def _adult_salt(*, weight_kg: float) -> float:
    return adult_need(weight_kg).sodium_mmol


ADULT: Final = Formula(
    id="adult-needs",
    title="Routine needs of an adult",
    terms=(WEIGHT,),
    sources=(Source("NICE CG174 (2013)", "quoted in a journal's table, seen"),),
    misleads=(
        "Ideal weight from a body mass index of 30 on; 20 to 25 mL/kg where frail, or with kidney "
        "or heart failure (from memory).",
        "Over 2.5 L a day raises the risk of a low sodium. Losses come on top.",
    ),
    parts=(
        Part("Water, least", "25 mL/kg", "mL/day", _adult_low,
             (example(1750, weight_kg=70), example(1250, weight_kg=50))),
        Part("Water, most", "30 mL/kg", "mL/day", _adult_high,
             (example(2100, weight_kg=70), example(1500, weight_kg=50))),
        Part("Sodium, potassium and chloride, each", "about 1 mmol/kg", "mmol/day", _adult_salt,
             (example(70, weight_kg=70), example(50, weight_kg=50))),
    ),
)  # fmt: skip


def _burn_total(*, weight_kg: float, burn_percent: float) -> float:
    return parkland(weight_kg=weight_kg, burn_percent=burn_percent).total_ml


def _burn_first(*, weight_kg: float, burn_percent: float, hours_since_burn: float) -> float:
    return parkland(
        weight_kg=weight_kg, burn_percent=burn_percent, hours_since_burn=hours_since_burn
    ).first_rate_ml_h


def _burn_second(*, weight_kg: float, burn_percent: float) -> float:
    return parkland(weight_kg=weight_kg, burn_percent=burn_percent).second_rate_ml_h


BURN: Final = Formula(
    id="burns",
    title="Fluid for a burn in its first day",
    terms=(
        WEIGHT,
        Term("burn_percent", "burn", "%", "share of the body's surface burnt"),
        Term("hours_since_burn", "late", "h", "hours since the burn"),
    ),
    sources=(
        Source("Baxter 1968"),
        Source("4 mL/kg for each percent: a UK label of compound sodium lactate", "label seen"),
    ),
    misleads=(
        "A start only: steer by urine, 0.5 mL/kg/h in adults and 1 mL/kg/h in children. Some "
        "bodies start adults at 2 mL/kg.",
        "The clock runs from the burn, not from arrival. Children need maintenance besides.",
    ),
    parts=(
        Part("Volume in 24 h", "4 mL × weight × burn", "mL", _burn_total, (
            example(11200, weight_kg=70, burn_percent=40),
            example(1200, "a child, before maintenance", weight_kg=20, burn_percent=15),
        )),
        Part("Rate to 8 h from the burn", "half the volume ÷ (8 − late)", "mL/h", _burn_first, (
            example(700, weight_kg=70, burn_percent=40, hours_since_burn=0),
            example(933.3, "seen 2 h late", weight_kg=70, burn_percent=40, hours_since_burn=2),
        )),
        Part("Rate in the next 16 h", "half the volume ÷ 16", "mL/h", _burn_second, (
            example(350, weight_kg=70, burn_percent=40),
        )),
    ),
)  # fmt: skip

SUBJECT: Final = Subject("Needs of a day, and burns", (MAINTENANCE, NEWBORN, ADULT, BURN))
