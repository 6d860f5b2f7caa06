"""Rules that are switched off here and would have had something to say: named in every review."""

from collections.abc import Iterator
from dataclasses import replace

from app.cautions.assess import Ruleset, assess_order, assess_patient
from app.cautions.rule import Finding, NotAssessed
from app.cautions.switches import Silent, SwitchedOff
from app.patient.case import Case
from app.patient.mixture import mixture
from app.patient.order import Order


def silent_of(case: Case, ruleset: Ruleset) -> tuple[Silent, ...]:
    """Each rule that is switched off and would have spoken of this case, or lacked something.

    Pure. What it would have found is not told: it is off. That it would have spoken is.
    """
    told = (_silent(off, case, ruleset) for off in ruleset.switched_off)
    return tuple(one for one in told if one is not None)


def _silent(off: SwitchedOff, case: Case, ruleset: Ruleset) -> Silent | None:
    alone = Ruleset.of((off.rule,), ruleset.limits)
    patient = assess_patient(case, alone)
    found: list[Finding] = [one.finding for one in patient.found]
    lacks: list[NotAssessed] = list(patient.not_assessed)
    for order in case.orders:
        for as_one in _each(order):
            others = tuple(as_one if other is order else other for other in case.orders)
            assessed = assess_order(as_one, replace(case, orders=others), alone)
            found += [one.finding for one in assessed.found]
            lacks += assessed.not_assessed
    if not (found or lacks):
        return None
    return Silent(off, tuple(dict.fromkeys(_orders(found, lacks))), lacks=not found)


def _each(order: Order) -> Iterator[Order]:
    """The order, or the order as each fluid that its name may mean."""
    if order.fluid is not None or not order.candidates:
        yield order
    for fluid in order.candidates if order.fluid is None else ():
        yield replace(order, fluid=fluid, mix=mixture(fluid, order.additives, order.volume_ml))


def _orders(found: list[Finding], lacks: list[NotAssessed]) -> Iterator[str]:
    for finding in found:
        yield from finding.order_ids
    for lack in () if found else lacks:
        if lack.order_id is not None:
            yield lack.order_id
