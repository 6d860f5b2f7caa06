"""A past order as people read it: who, by age and weight alone, what is known, what is ordered."""

from dataclasses import dataclass
from typing import Final

from app.patient.case import Case
from app.review.replay.answer import Past
from app.review.replay.twice import Known, case_of
from app.web import show
from app.web.advice.order_words import order_words
from app.web.patients import ResultRow, facts_of, result_row

UNREADABLE: Final = "This request cannot be read with what is in force."


@dataclass(frozen=True, slots=True)
class OrderLine:
    """One order with its number in the request."""

    id: str
    words: str


@dataclass(frozen=True, slots=True)
class Situation:
    """One past order. fault: why nothing of it can be shown, else empty."""

    when: str
    who: str
    facts: tuple[tuple[str, str], ...]
    conditions: tuple[str, ...]
    medications: tuple[str, ...]
    results: tuple[ResultRow, ...]
    orders: tuple[OrderLine, ...]
    others: tuple[str, ...]
    fault: str = ""


def situation_of(past: Past, known: Known) -> Situation:
    """The situation as it is understood with this knowledge."""
    case = case_of(past, known)
    when = show.clock_and_day(past.at)
    if case is None:
        return Situation(when, past.setting, (), (), (), (), (), (), UNREADABLE)
    patient = case.patient
    who = f"{show.person_age(patient.age_years)}, {show.weight(patient.weight_kg)}, {past.setting}"
    request = past.request.get("patient", {})
    return Situation(
        when=when,
        who=who,
        facts=facts_of(patient),
        conditions=tuple(request.get("conditions", ())),
        medications=tuple(request.get("medications", ())),
        results=tuple(result_row(many, patient) for many in patient.results.values() if many),
        orders=_orders(case),
        others=tuple(other.name for other in case.co_infusions),
    )


def _orders(case: Case) -> tuple[OrderLine, ...]:
    return tuple(OrderLine(order.id, order_words(order, case.now)) for order in case.orders)
