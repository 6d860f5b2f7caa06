"""Run the rules on a case: found, nothing found, or not assessed because …"""

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from app.cautions.describe import own_limits_first
from app.cautions.rule import Finding, Limits, NotAssessed, Rule, in_one_line
from app.cautions.switches import SwitchedOff
from app.patient.case import Case, Situation
from app.patient.known import NotKnown
from app.patient.order import Order


@dataclass(frozen=True, slots=True)
class Found:
    """A finding with the rule it came from and the limits that were in force."""

    rule: Rule
    finding: Finding
    limits: Limits

    @property
    def do(self) -> str:
        """What to do; limits of the unit's own go before the figures of the rule's advice."""
        advice = self.finding.do or self.rule.do
        own = own_limits_first(self.rule, self.limits)
        return f"{own} {advice}" if own else advice


@dataclass(frozen=True, slots=True)
class Assessment:
    """All findings and all that could not be assessed, for one order or for the patient."""

    found: tuple[Found, ...]
    not_assessed: tuple[NotAssessed, ...]


@dataclass(frozen=True, slots=True)
class Ruleset:
    """Rules with the limits in force, and a version that names both.

    switched_off: rules that the hospital has switched off; they are in no other field.
    """

    order_rules: tuple[Rule, ...]
    patient_rules: tuple[Rule, ...]
    limits: Mapping[str, Limits]
    version: str
    switched_off: tuple[SwitchedOff, ...] = ()

    @staticmethod
    def of(
        rules: Iterable[Rule],
        limits: Mapping[str, Limits],
        switched_off: Iterable[SwitchedOff] = (),
    ) -> "Ruleset":
        """The active rules that are not switched off, split by what they look at."""
        off = tuple(switched_off)
        silent = {one.rule.id for one in off}
        active = tuple(r for r in rules if r.status == "active" and r.id not in silent)
        text = repr([(r.id, r.trigger, sorted(limits[r.id].items())) for r in active])
        return Ruleset(
            order_rules=tuple(r for r in active if r.for_order),
            patient_rules=tuple(r for r in active if r.for_patient),
            limits=limits,
            version=hashlib.sha256(text.encode()).hexdigest()[:12],
            switched_off=off,
        )

    def only(self, rule_ids: Iterable[str]) -> "Ruleset":
        """These rules alone, in the same order and with the same limits."""
        ids = frozenset(rule_ids)
        return replace(
            self,
            order_rules=tuple(rule for rule in self.order_rules if rule.id in ids),
            patient_rules=tuple(rule for rule in self.patient_rules if rule.id in ids),
        )


def assess_order(order: Order, case: Case, ruleset: Ruleset) -> Assessment:
    """Run every order rule on one order of a case."""
    found: list[Found] = []
    missing: list[NotAssessed] = []
    situation = Situation(case, order)
    for rule in ruleset.order_rules:
        limits = ruleset.limits[rule.id]
        check = rule.for_order
        assert check is not None
        try:
            for finding in check(situation, limits):
                told = replace(in_one_line(finding), order_ids=(order.id,))
                found.append(Found(rule, told, limits))
        except NotKnown as lack:
            missing.append(NotAssessed(rule.id, (lack.need,), lack.why, lack.detail, order.id))
    return Assessment(tuple(found), tuple(missing))


def assess_patient(case: Case, ruleset: Ruleset) -> Assessment:
    """Run every patient rule on a case."""
    found: list[Found] = []
    missing: list[NotAssessed] = []
    for rule in ruleset.patient_rules:
        limits = ruleset.limits[rule.id]
        check = rule.for_patient
        assert check is not None
        try:
            found.extend(Found(rule, in_one_line(one), limits) for one in check(case, limits))
        except NotKnown as lack:
            missing.append(NotAssessed(rule.id, (lack.need,), lack.why, lack.detail))
    return Assessment(tuple(found), tuple(missing))
