"""One past request answered with two states of knowledge, doing once what both share.

A review is made of what each rule found and lacked. So where only rules differ, and those that
differ say the same of a case and lack nothing, the second answer is the first: no review is made
again. Where fluids differ and a request is read as the same case, likewise.
"""

from dataclasses import dataclass, replace
from typing import Final, Protocol

from app.catalogue.catalogue import Catalogue
from app.catalogue.pairs.facts import PairFacts
from app.cautions.assess import Assessment, Ruleset, assess_order, assess_patient
from app.cautions.rule import Limits, Rule
from app.intake.errors import InputError, InputErrors
from app.intake.read import PatientRead, read_patient, with_orders
from app.intake.vocabulary import Vocabulary
from app.patient.case import Case
from app.review.assess import review
from app.review.replay.answer import UNREAD, Answer, Past, answer_of

UNREADABLE: Final = (InputError, InputErrors)


class Known(Protocol):
    """The part of what a review is made with that decides what is found."""

    @property
    def catalogue(self) -> Catalogue:
        """The fluids."""

    @property
    def vocabulary(self) -> Vocabulary:
        """The words."""

    @property
    def ruleset(self) -> Ruleset:
        """The rules with their limits."""

    @property
    def pairs(self) -> PairFacts:
        """What is known of two things in one lumen."""


@dataclass(frozen=True, slots=True)
class Twice:
    """Two states of knowledge, and what differs.

    was, would_be: the rules that differ, as each has them. same_reading: a request is one case.
    """

    before: Known
    after: Known
    was: Ruleset
    would_be: Ruleset
    same_reading: bool

    @staticmethod
    def of(before: Known, after: Known) -> "Twice":
        """Find what differs, once for all requests."""
        ids = differing(before.ruleset, after.ruleset)
        return Twice(
            before,
            after,
            before.ruleset.only(ids),
            after.ruleset.only(ids),
            _reads_alike(before, after),
        )

    def answers(self, past: Past) -> tuple[Answer, Answer]:
        """What is said of a request before, and what would be said after."""
        case, other = self._cases(past)
        if case is None or other is None:
            return _answer(case, self.before), _answer(other, self.after)
        first = answer_of(review(case, self.before.ruleset))
        same_case = case is other or case == other
        if same_case and self._rules_agree(case):
            return first, first
        # The same case keeps what the first review worked out for it.
        return first, answer_of(review(case if same_case else other, self.after.ruleset))

    def _cases(self, past: Past) -> tuple[Case | None, Case | None]:
        """The case a request is read as before and after; its patient is read once."""
        if self.before.vocabulary is not self.after.vocabulary:
            return case_of(past, self.before), case_of(past, self.after)
        read = _patient_of(past, self.before)
        case = _with_orders(read, self.before)
        return case, (case if self.same_reading else _with_orders(read, self.after))

    def _rules_agree(self, case: Case) -> bool:
        """True when the rules that differ say the same of this case, and lack nothing."""
        if any(order.fluid is None and order.candidates for order in case.orders):
            return False  # such an order is judged as each fluid it may mean
        return _agree(assess_patient(case, self.was), assess_patient(case, self.would_be)) and all(
            _agree(assess_order(order, case, self.was), assess_order(order, case, self.would_be))
            for order in case.orders
        )


def case_of(past: Past, known: Known) -> Case | None:
    """The case a past request is read as; None when it cannot be read at all."""
    return _with_orders(_patient_of(past, known), known)


def _patient_of(past: Past, known: Known) -> PatientRead:
    return read_patient(past.request, vocabulary=known.vocabulary, now=past.at)


def _with_orders(read: PatientRead, known: Known) -> Case | None:
    try:
        return replace(with_orders(read, known.catalogue), pairs=known.pairs)
    except UNREADABLE:
        return None


def answer_with(past: Past, known: Known) -> Answer:
    """What is said of a request with one state of knowledge."""
    return _answer(case_of(past, known), known)


def differing(before: Ruleset, after: Ruleset) -> frozenset[str]:
    """The ids of rules that one of two rule sets lacks, or has otherwise or with other limits."""
    was, would_be = _by_id(before), _by_id(after)
    return frozenset(
        rule_id for rule_id in was.keys() | would_be.keys()
        if was.get(rule_id) != would_be.get(rule_id)
    )  # fmt: skip


def _by_id(ruleset: Ruleset) -> dict[str, tuple[Rule, Limits]]:
    rules = (*ruleset.order_rules, *ruleset.patient_rules)
    return {rule.id: (rule, dict(ruleset.limits[rule.id])) for rule in rules}


def _reads_alike(before: Known, after: Known) -> bool:
    if before.vocabulary is not after.vocabulary:
        return False
    return before.catalogue == after.catalogue and before.pairs == after.pairs


def _answer(case: Case | None, known: Known) -> Answer:
    return UNREAD if case is None else answer_of(review(case, known.ruleset))


def _agree(was: Assessment, would_be: Assessment) -> bool:
    if was.not_assessed or would_be.not_assessed:
        return False
    return _said(was) == _said(would_be)


def _said(assessment: Assessment) -> list[tuple[str, tuple[str, ...], str]]:
    """What makes rows: sentences may quote the limit, and so differ where the rows do not."""
    found = ((one.rule.id, one.finding) for one in assessment.found)
    return [(rule_id, finding.order_ids, finding.level) for rule_id, finding in found]
