"""A review as the JSON of the outside interface (POST /api/review, ringside review --json)."""

from collections.abc import Iterable, Mapping
from typing import Any, Final

from app.catalogue.catalogue import Catalogue
from app.catalogue.stock.stock import NOTHING_TOLD, Stock
from app.catalogue.vehicles.vehicle import Vehicles
from app.cautions.assess import Found, Ruleset
from app.cautions.rule import NotAssessed
from app.cautions.switches import SwitchedOff
from app.chemistry.composition import Composition
from app.patient.case import Case
from app.patient.order import Order, Question
from app.review.as_text import USUAL_CAUTION
from app.review.assess import OrderReview, Review
from app.review.ledger.as_reply import ledger_reply
from app.review.ledger.ledger import ledger_of
from app.review.missing.would_change import CouldRaise
from app.review.way_out import Alternative
from app.review.ways.offers import Offers

DECIMALS: Final = 3


def reply_of(
    review: Review,
    catalogue: Catalogue,
    ruleset: Ruleset,
    vehicles: Vehicles,
    stock: Stock = NOTHING_TOLD,
) -> dict[str, Any]:
    """The reply to a review: findings with ways out, what was not assessed, loads and ledger.

    would_change: what is not known and could raise a finding, what matters most first. totals sums
    the orders; ledger sums everything that goes into a vein, source by source. stock: what is out
    or withdrawn is never offered.
    """
    offers = Offers.of(review, catalogue, ruleset, stock)
    return {
        "ruleset": review.ruleset_version,
        "catalogue": catalogue.version,
        "now": review.case.now.isoformat(),
        "orders": [_order(order, offers) for order in review.orders],
        "patient_findings": [_patient_finding(f, offers) for f in review.patient_found],
        "patient_not_assessed": [_not_assessed(n) for n in review.patient_not_assessed],
        "switched_off": [_switched_off(off, review) for off in review.switched_off],
        "would_change": [_could_raise(one) for one in review.would_change],
        "totals": _rounded(review.totals),
        "ledger": ledger_reply(ledger_of(review.case, vehicles)),
        "questions": [_question(q) for q in review.case.questions],
        "understood": _understood_patient(review.case),
        "not_understood": _not_understood(review.case),
        "caution": USUAL_CAUTION,
    }


def _order(review: OrderReview, offers: Offers) -> dict[str, Any]:
    order = review.order
    return {
        "id": order.id,
        "fluid_id": order.fluid.id if order.fluid else None,
        "stock": offers.stock.of(order.fluid.id).as_data() if order.fluid else None,
        "findings": [_finding(f, offers, (order.id,)) for f in review.found],
        "not_assessed": [_not_assessed(n) for n in review.not_assessed],
        "loads": _rounded(review.loads),
        "depends": [
            {**_finding(f, offers, ()), "only_if": [fluid.id for fluid in fluids]}
            for f, fluids in review.depends
        ],
        "questions": [_question(q) for q in order.questions],
        "understood": _understood(order),
    }


def _finding(found: Found, offers: Offers, order_ids: Iterable[str]) -> dict[str, Any]:
    """One finding in the interface's shape, with what the rule adds (unless, evidence).

    order_ids: another fluid is sought for the first of these orders.
    """
    rule, finding = found.rule, found.finding
    return {
        "rule_id": rule.id,
        "level": finding.level,
        "title": finding.summary,
        "detail": finding.why,
        "figures": _rounded(finding.figures),
        "limit": {name: found.limits[name] for name in finding.limits},
        "source": [{"work": s.work, "place": s.place, "seen": s.seen} for s in rule.sources],
        "do": offers.advice(found),
        "alternatives": [_alternative(way) for way in offers.alternatives(found, order_ids)],
        "rule_title": rule.title,
        "unless": rule.unless,
        "evidence": rule.evidence,
    }


def _alternative(way: Alternative) -> dict[str, Any]:
    return {
        "fluid_id": way.fluid.id,
        "why": way.why,
        "name": way.fluid.name,
        "without_added_potassium": way.drops_potassium,
        "stock": way.stock.as_data(),
    }


def _patient_finding(found: Found, offers: Offers) -> dict[str, Any]:
    """A finding of the whole patient, with the orders it names."""
    ids = found.finding.order_ids
    return {**_finding(found, offers, ids), "order_ids": list(ids)}


def _not_assessed(lack: NotAssessed) -> dict[str, Any]:
    return {
        "rule_id": lack.rule_id,
        "needs": list(lack.needs),
        "why": lack.why,
        "detail": lack.detail,
    }


def _switched_off(off: SwitchedOff, review: Review) -> dict[str, Any]:
    """A rule that does not run here: since when, by whom, why, and whether it would have spoken."""
    silent = next((one for one in review.silent if one.off == off), None)
    return {
        "rule_id": off.rule.id,
        "rule_title": off.rule.title,
        "since": off.since.isoformat(),
        "by": off.by,
        "reason": off.reason,
        "review_on": off.review_on.isoformat(),
        "would_have_spoken": silent is not None,
        "order_ids": list(silent.order_ids) if silent else [],
    }


def _could_raise(one: CouldRaise) -> dict[str, Any]:
    return {
        "need": one.need,
        "why": one.why,
        "detail": one.detail,
        "level": one.level,
        "rule_ids": [rule.id for rule in one.rules],
        "order_ids": list(one.order_ids),
        "title": one.sentence,
    }


def _question(question: Question) -> dict[str, Any]:
    return {
        "field": question.field,
        "written": question.written,
        "ask": question.ask,
        "choices": list(question.choices),
    }


def _understood(order: Order) -> dict[str, Any]:
    """How the order's words were read."""
    return {
        "fluid": order.fluid.name if order.fluid else None,
        "may_mean": [fluid.name for fluid in order.candidates],
        "per_litre": _held(order.mix) if order.mix else None,
        "additives": [
            {"as_written": a.as_written, "substance": a.substance, "not_read": a.unread}
            for a in order.additives
        ],
        "rate_ml_h": rounded(order.rate_ml_h),
        "volume_ml": rounded(order.volume_ml),
        "duration_h": rounded(order.duration_h),
        "purpose": order.purpose,
        "bolus": order.is_bolus,
    }


def _held(mix: Composition) -> dict[str, Any]:
    """What a litre holds, absent things left out; null where the label does not say."""
    return {name: rounded(v) for name, v in mix.amounts().items() if v is None or v}


def _understood_patient(case: Case) -> dict[str, Any]:
    patient = case.patient
    newest = [group[0] for group in patient.results.values() if group]
    return {
        "conditions": sorted(patient.conditions.found),
        "conditions_denied": sorted(patient.conditions.denied),
        "medications": sorted(patient.medications.found),
        "converted": [o.converted for o in newest if o.converted],
        "co_infusions": [
            {"name": o.name, "read_as": o.key or None, "brings": sorted(o.contents)}
            for o in case.co_infusions
        ],
        "not_running": [
            {"name": o.name, "read_as": o.key or None, "stands": o.stands} for o in case.set_aside
        ],
    }


def _not_understood(case: Case) -> list[str]:
    """Words about the patient and what else runs that nothing was made of."""
    patient = case.patient
    others = (o.name for o in case.co_infusions if not o.key)
    return [*patient.conditions.unread, *patient.medications.unread, *others]


def rounded(value: float | None) -> float | None:
    """A number for people and machines: three decimals, none is none."""
    return None if value is None else round(value, DECIMALS)


def _rounded(values: Mapping[str, Any]) -> dict[str, Any]:
    return {n: rounded(v) if isinstance(v, float) else v for n, v in values.items()}
