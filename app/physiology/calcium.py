"""Which infusions bring calcium."""

from app.patient.known import NotKnown
from app.patient.order import CoInfusion, Order


def order_brings_calcium(order: Order) -> bool:
    """True when the fluid or an additive holds calcium, whatever its amount.

    An ambiguous name answers when all it may mean agree. NotKnown("fluid") otherwise.
    """
    if any(a.added.calcium_mmol_l or "calcium" in a.substance.lower() for a in order.additives):
        return True
    if order.fluid is not None:
        return order.fluid.composition.calcium_mmol_l > 0
    answers = {fluid.composition.calcium_mmol_l > 0 for fluid in order.candidates}
    if len(answers) != 1:
        raise NotKnown("fluid", "missing", f"“{order.written}” may or may not hold calcium")
    return answers.pop()


def other_brings_calcium(other: CoInfusion) -> bool:
    """True when a drug, its diluent or a nutrition bag holds calcium."""
    in_diluent = other.diluent is not None and other.diluent.composition.calcium_mmol_l > 0
    return in_diluent or "calcium" in other.contents
