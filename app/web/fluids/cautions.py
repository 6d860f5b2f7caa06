"""The caution rules that have something to say of one fluid, in whatever patient."""

from collections.abc import Mapping
from typing import Final

from app.catalogue.fluid import Fluid
from app.cautions.assess import assess_order
from app.cautions.example import EXAMPLE_NOW, Example
from app.cautions.registry import RULE_BY_ID
from app.cautions.rule import Rule
from app.intake.read import read_case
from app.patient.case import Case
from app.patient.order import Order
from app.patient.snapshot import Snapshot
from app.review.knowledge import Knowledge
from app.web.rules import all_examples

# An order complete enough that only the fluid itself is left to speak of.
VOLUME_ML: Final = 1000.0
RATE_ML_H: Final = 100.0
# Rules about how an order is written, not about what is in the bag.
OF_THE_ORDER: Final = ("ord-", "order-", "data-")
_SHOWN: Final[dict[str, Mapping[str, set[str]]]] = {}


def cautions_of(fluid: Fluid, knowledge: Knowledge) -> tuple[Rule, ...]:
    """Rules that fire on this fluid or ask for a patient's figures because of it, by id.

    Found by trying: the fluid ordered for a patient of whom nothing is known, and every worked
    example that is ordered with this fluid.
    """
    ids = {*_asked_for(fluid, knowledge), *_shown_by_examples(knowledge).get(fluid.id, ())}
    return tuple(RULE_BY_ID[i] for i in sorted(ids) if not i.startswith(OF_THE_ORDER))


def _asked_for(fluid: Fluid, knowledge: Knowledge) -> set[str]:
    order = Order(
        "o1",
        fluid.name,
        fluid,
        volume_ml=VOLUME_ML,
        rate_ml_h=RATE_ML_H,
        duration_h=VOLUME_ML / RATE_ML_H,
        purpose="maintenance",
        mix=fluid.composition,
    )
    case = Case(Snapshot(EXAMPLE_NOW, "adult ward"), (order,))
    assessment = assess_order(order, case, knowledge.ruleset)
    return {f.rule.id for f in assessment.found} | {n.rule_id for n in assessment.not_assessed}


def _shown_by_examples(knowledge: Knowledge) -> Mapping[str, set[str]]:
    """Rule ids by the id of a fluid they fire on in a worked example; worked out once a version."""
    if knowledge.version not in _SHOWN:
        shown: dict[str, set[str]] = {}
        for example in filter(lambda each: each.fires, all_examples()):
            for fluid_id in _fluids_of(example, knowledge):
                shown.setdefault(fluid_id, set()).add(example.rule)
        _SHOWN.clear()
        _SHOWN[knowledge.version] = shown
    return _SHOWN[knowledge.version]


def _fluids_of(example: Example, knowledge: Knowledge) -> set[str]:
    case = read_case(
        example.request,
        catalogue=knowledge.catalogue,
        vocabulary=knowledge.vocabulary,
        now=EXAMPLE_NOW,
    )
    # Additives change what the bag is; such an example says nothing of the plain fluid.
    return {o.fluid.id for o in case.orders if o.fluid is not None and not o.additives}
