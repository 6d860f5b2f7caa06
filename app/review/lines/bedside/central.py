"""What only a central lumen bears: by the same rules that review an order by a small vein. Pure."""

from dataclasses import replace
from typing import Final

from app.cautions.assess import Ruleset, assess_order, assess_patient
from app.cautions.families.vein import RULES
from app.cautions.shared.substances import Infusion, holds
from app.patient.access import Lumen
from app.patient.case import Case
from app.patient.order import CoInfusion, Order

VEIN_RULES: Final = frozenset(rule.id for rule in RULES)
SMALL_VEIN: Final = (Lumen("a small vein", "peripheral"),)
HARMS_BESIDE: Final = "Beside the vein it does harm, and there is a central lumen."


def why_central(infusion: Infusion, case: Case, ruleset: Ruleset) -> str:
    """Why it must run by a central lumen, as the review would say it; empty where it need not.

    A vasoactive drug needs one only where there is one: without it the drug is not withheld.
    """
    has_central = any(lumen.site == "central" for lumen in case.patient.access)
    if has_central and holds(infusion, "vasoactive"):
        return HARMS_BESIDE
    alone = _by_small_vein(infusion, case)
    rules = ruleset.only(VEIN_RULES)
    found = list(assess_patient(alone, rules).found)
    for order in alone.orders:
        found += assess_order(order, alone, rules).found
    critical = (one.finding.summary for one in found if one.finding.level == "critical")
    return next(critical, "")


def _by_small_vein(infusion: Infusion, case: Case) -> Case:
    """The patient with this infusion alone, by a peripheral vein."""
    patient = replace(case.patient, access=SMALL_VEIN)
    if isinstance(infusion, Order):
        inside = tuple(each for each in case.co_infusions if each.carried_by == infusion.id)
        order = replace(infusion, lumen=None)
        return replace(case, patient=patient, orders=(order,), co_infusions=inside)
    other: CoInfusion = replace(infusion, lumen=None)
    return replace(case, patient=patient, orders=(), co_infusions=(other,))
