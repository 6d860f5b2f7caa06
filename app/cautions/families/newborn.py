"""A newborn's maintenance by day of life: water, glucose, salt."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from app.cautions.cited import CHILD_FLUIDS, PRACTICE
from app.cautions.phrases import number
from app.cautions.rule import Finding, Limit, Limits, Rule
from app.cautions.shared.flow import recorded
from app.patient.case import Case
from app.patient.known import NotKnown, known
from app.patient.order import Order
from app.patient.snapshot import DAYS_PER_YEAR, Snapshot
from app.physiology.maintenance import LAST_NEWBORN_DAY, newborn_ml_kg_day

HOURS_PER_DAY: Final = 24.0
# Newborns who are kept dry on purpose.
KEPT_DRY: Final = (
    "brain_injury", "kidney_disease", "oliguria", "anuria", "heart_failure", "fluid_overload",
    "pulmonary_oedema", "siadh", "meningitis", "hyponatraemia", "postoperative", "pneumonia",
    "bronchiolitis", "sepsis",
)  # fmt: skip
# Newborns who get more on purpose.
GIVEN_MORE: Final = (
    "preterm", "phototherapy", "dehydration", "hypernatraemia", "gastric_losses", "diarrhoea",
    "bicarbonate_loss", "shock", "septic_shock", "hypovolaemia", "vomiting", "hypoglycaemia",
    "diabetes_insipidus",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Upkeep:
    """What a newborn gets as maintenance: orders, mL/kg/day, and whether food comes besides."""

    orders: tuple[Order, ...]
    ml_kg_day: float
    fed: bool


def newborn_maintenance(case: Case, limits: Limits) -> Iterator[Finding]:
    """Water outside the range for the day of life, no glucose, or no salt after the first days."""
    orders = tuple(order for order in case.orders if _is_upkeep(order))
    if not orders or not _may_be_newborn(case.patient):
        return
    days = known(case.patient.age_years, "age_years") * DAYS_PER_YEAR
    weight = known(case.patient.weight_kg, "weight_kg")
    upkeep = _upkeep(case, orders, weight)
    yield from _glucose(case, upkeep, limits)
    yield from _water(case, upkeep, days, limits)
    yield from _salt(case, upkeep, days, limits)


def _is_upkeep(order: Order) -> bool:
    return order.purpose == "maintenance" and not order.is_bolus


def _may_be_newborn(patient: Snapshot) -> bool:
    try:
        return patient.is_neonate()
    except NotKnown:
        return False


def _upkeep(case: Case, orders: tuple[Order, ...], weight_kg: float) -> Upkeep:
    rate = sum(known(order.rate_ml_h, "rate_ml_h") for order in orders)
    rate += sum(other.rate_ml_h or 0.0 for other in case.co_infusions if not other.carried_by)
    nutrition = any(other.kind == "nutrition" for other in case.co_infusions)
    fed = nutrition or "drinking" in case.patient.conditions
    return Upkeep(orders, rate * HOURS_PER_DAY / weight_kg, fed)


def _glucose(case: Case, upkeep: Upkeep, limits: Limits) -> Iterator[Finding]:
    if upkeep.fed or _brings_glucose(case):
        return
    glucose = case.patient.value_or_none("glucose")
    if glucose is not None and glucose >= limits["glucose_high_mmol_l"]:
        return
    low = glucose is not None and glucose < limits["glucose_low_mmol_l"]
    told = "" if glucose is None else f", glucose {number(glucose)} mmol/L"
    yield Finding(
        "critical" if low else "warning",
        f"Newborn on maintenance at {number(upkeep.ml_kg_day)} mL/kg/day without glucose{told}.",
        f"No order or infusion brings glucose, and no feed is recorded{told.replace(',', ';')}.",
        figures={"water_ml_kg_day": upkeep.ml_kg_day},
        limits=("glucose_low_mmol_l", "glucose_high_mmol_l"),
        order_ids=tuple(order.id for order in upkeep.orders),
        do="Use 10% glucose, with sodium from the second or third day on; glucose now.",
    )


def _brings_glucose(case: Case) -> bool:
    if any(order.mix is None or order.mix.glucose_g_l for order in case.orders):
        return True
    return any(
        "glucose" in other.contents or (other.diluent and other.diluent.composition.glucose_g_l)
        for other in case.co_infusions
    )


def _water(case: Case, upkeep: Upkeep, days: float, limits: Limits) -> Iterator[Finding]:
    low, high = _range(days)
    slack = limits["slack_share"]
    kept_dry, more = recorded(case.patient, KEPT_DRY), recorded(case.patient, GIVEN_MORE)
    under = upkeep.ml_kg_day < low * (1 - slack) and not kept_dry and not upkeep.fed
    most = limits["most_ml_kg_day"] if more else high * (1 + slack)
    if not under and upkeep.ml_kg_day <= most:
        return
    yield Finding(
        "warning",
        f"Newborn, day {_day(days)}: {number(upkeep.ml_kg_day)} mL/kg/day; {number(low)} to "
        f"{number(high)} is usual.",
        f"{number(upkeep.ml_kg_day)} mL/kg/day from all maintenance and drugs on day "
        f"{_day(days)} of life; {'restricted on purpose' if kept_dry else 'no reason recorded'}.",
        figures={"water_ml_kg_day": upkeep.ml_kg_day, "day_of_life": _day(days)},
        limits=("slack_share", "most_ml_kg_day"),
        order_ids=tuple(order.id for order in upkeep.orders),
    )


def _day(days: float) -> int:
    """Day of life; the day of birth is day 1."""
    return min(int(days) + 1, LAST_NEWBORN_DAY)


def _range(days: float) -> tuple[float, float]:
    """Usual water, mL/kg/day; an age in days may count the day of birth as 0 or as 1."""
    low, _ = newborn_ml_kg_day(max(1, _day(days) - 1))
    _, high = newborn_ml_kg_day(_day(days))
    return low, high


def _salt(case: Case, upkeep: Upkeep, days: float, limits: Limits) -> Iterator[Finding]:
    """No sodium at all once the first days' water has been passed."""
    if upkeep.fed or days < limits["salt_from_days"]:
        return
    if any(order.mix is None or order.mix.sodium_mmol_l for order in case.orders):
        return
    sodium = case.patient.value_or_none("sodium")
    if sodium is not None and sodium > limits["sodium_high_mmol_l"]:
        return
    low = sodium is not None and sodium < limits["sodium_low_mmol_l"]
    told = "" if sodium is None else f", sodium {number(sodium)} mmol/L"
    yield Finding(
        "warning" if low else "info",
        f"Newborn, day {_day(days)}, on {number(upkeep.ml_kg_day)} mL/kg/day without sodium{told}.",
        f"No order brings sodium on day {_day(days)} of life{told.replace(',', ';')}.",
        figures={"water_ml_kg_day": upkeep.ml_kg_day},
        limits=("salt_from_days", "sodium_low_mmol_l", "sodium_high_mmol_l"),
        order_ids=tuple(order.id for order in upkeep.orders),
        do="Add sodium, 2 to 4 mmol/kg/day, once weight falls and urine flows.",
    )


RULES: Final = (
    Rule(
        id="neo-na",
        title="A newborn's maintenance",
        trigger="To 28 days of age, stated maintenance: water more than a quarter outside the "
        "range for the day of life (50-60, 70-80, 80-100, 100-120, then 120-150 mL/kg/day), or no "
        "glucose (critical under 2.6 mmol/L), or from day 5 no sodium (warning under 135 mmol/L, "
        "else info).",
        unless="less is meant (brain injury, kidneys, heart, lungs, after surgery, sepsis, low "
        "sodium) or feeds or nutrition come besides; more is meant (preterm, phototherapy, losses) "
        "up to 200 mL/kg/day",
        do="Review water by day of life, weight and sodium; keep glucose running.",
        evidence="The table is for term newborns; weight change and sodium say more than any "
        "table.",
        sources=(CHILD_FLUIDS, PRACTICE),
        needs=("age_years", "weight_kg", "rate_ml_h"),
        limits=(
            Limit("slack_share", 0.25, "of the range", "how far outside counts", PRACTICE),
            Limit("most_ml_kg_day", 200, "mL/kg/day", "most where more is meant", PRACTICE),
            Limit("glucose_low_mmol_l", 2.6, "mmol/L", "glucose that is low in a newborn"),
            Limit("glucose_high_mmol_l", 10, "mmol/L", "glucose that needs none", PRACTICE),
            Limit("salt_from_days", 4, "days", "age from which sodium is due", PRACTICE),
            Limit("sodium_low_mmol_l", 135, "mmol/L", "sodium that is low"),
            Limit("sodium_high_mmol_l", 145, "mmol/L", "sodium that is high"),
        ),
        population="neonate",
        levels=("critical", "warning", "info"),
        for_patient=newborn_maintenance,
    ),
)
