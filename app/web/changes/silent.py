"""Rules that are switched off here and would have spoken: said on every page that advises."""

from dataclasses import dataclass

from app.cautions.phrases import opening
from app.cautions.switches import off_sentence
from app.review.assess import Review


@dataclass(frozen=True, slots=True)
class SilentView:
    """One such rule: its title, and since when, by whom and why it does not run."""

    rule_id: str
    title: str
    sentence: str


def silent_of(review: Review, order_id: str = "") -> tuple[SilentView, ...]:
    """Each rule that is off and would have had something to say; of one order where one is named,
    with what it would have said of the patient.
    """
    zone = review.case.now.tzinfo
    return tuple(
        SilentView(one.off.rule.id, opening(one.off.rule.title), off_sentence(one.off, zone))
        for one in review.silent
        if not order_id or not one.order_ids or order_id in one.order_ids
    )
