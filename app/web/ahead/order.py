"""An order that is being written, followed over hours: where it is told, for whom, or why not."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Final

from app.patient.case import Case
from app.patient.order import CoInfusion, Order
from app.patient.snapshot import Snapshot
from app.physiology.course.body import KIDNEYS
from app.review.predict.insulin import units_an_hour
from app.review.running.orders import goes_on
from app.web.ahead.address import left_address, told, why_not
from app.web.prediction.fields import ACUTE, INSULIN, RESULT, RESULT_NUMBERS, RUNS

# Ticks of the form, and the conditions on record that set them.
TICKED_BY: Final[Mapping[str, frozenset[str]]] = MappingProxyType(
    {
        "shock": frozenset({"shock", "septic_shock", "cardiogenic_shock"}),
        "liver": frozenset({"severe_liver_failure"}),
        "kidneys": KIDNEYS,
        "alcohol": frozenset({"alcohol_dependence"}),
        "malnutrition": frozenset({"malnutrition"}),
    }
)
SHORT_STANDING: Final = ("acute_hyponatraemia", "acute_hypernatraemia")


@dataclass(frozen=True, slots=True)
class OrderAhead:
    """address: of the whole prediction, for nobody yet; empty where it cannot be told. person: the
    patient in its fields. renewed: its bag is taken to be renewed for a day. why_not: as it says.
    """

    address: str = ""
    person: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    renewed: bool = False
    why_not: str = ""


NOT_AHEAD: Final = OrderAhead()


def order_ahead(order: Order, case: Case) -> OrderAhead:
    """An order of a case, with the patient as typed."""
    address = left_address("", order, case)
    renewed = bool(address) and goes_on(order, case)
    person = {**typed_as(case.patient), **insulin_as(case.co_infusions, case.patient.weight_kg)}
    return OrderAhead(address, person, renewed, why_not(order, case))


def insulin_as(others: Iterable[CoInfusion], weight_kg: float | None) -> dict[str, str]:
    """Insulin that runs, in the fields of a prediction: its units an hour, or that it runs."""
    ours = (other.name for other in others if INSULIN in (other.key, *other.contents))
    return insulin_named(ours, weight_kg)


def insulin_named(lines: Iterable[str], weight_kg: float | None) -> dict[str, str]:
    """The same of lines that name insulin; nothing of none."""
    rates = [units_an_hour(line, weight_kg) for line in lines]
    known = [rate for rate in rates if not isinstance(rate, str)]
    if len(known) < len(rates):
        return {RUNS.name: "1"}
    return {INSULIN: f"{sum(known):.6g}"} if known else {}


def typed_as(patient: Snapshot) -> dict[str, str]:
    """What is known of a person who was typed, in the fields of a prediction.

    Results are in the project's units, the newest of each that can be used, however old.
    """
    numbers = {
        "weight": patient.weight_kg, "age": patient.age_years, "height": patient.height_cm,
        "urine": patient.urine_ml_h, **{RESULT + n: _newest(n, patient) for n in RESULT_NUMBERS},
    }  # fmt: skip
    said = ",".join(sorted(patient.conditions.found))
    ticks = {tick: "1" for tick, keys in TICKED_BY.items() if patient.conditions.any_of(*keys)}
    onset = ACUTE if patient.conditions.any_of(*SHORT_STANDING) else ""
    figures = {name: f"{value:.6g}" for name, value in numbers.items() if value is not None}
    return told({"sex": patient.sex or "", "onset": onset, "said": said, **figures, **ticks})


def _newest(name: str, patient: Snapshot) -> float | None:
    usable = (one.value for one in patient.results.get(name, ()))
    return next((value for value in usable if value is not None), None)
