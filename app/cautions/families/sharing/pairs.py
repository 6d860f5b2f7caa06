"""Two infusions in one lumen that clash, or of which nothing is known."""

from collections.abc import Callable, Container, Iterator
from dataclasses import dataclass
from typing import Final

from app.catalogue.pairs.fact import PairFact
from app.catalogue.source import Source
from app.cautions.cited import PRACTICE
from app.cautions.families.sharing.signed import note_of, signed_finding
from app.cautions.phrases import listed, opening, short
from app.cautions.rule import SUMMARY_AT_MOST, Finding, Level, Limits, Rule
from app.cautions.shared.lines import HOW, SHARED, is_blood
from app.cautions.shared.substances import (
    Infusion,
    holds,
    is_dose,
    name_of,
    order_ids_of,
    pairs_of,
    substance_of,
    way_between,
)
from app.patient.case import Case
from app.patient.order import CoInfusion, Order
from app.patient.sharing import Sharing

LABELS: Final = Source("Labels of the drugs named; each pair carries its own source")
NUTRITION: Final = "parenteral_nutrition"
# Where nothing known of a pair is itself worth saying: drugs that act within minutes or that
# precipitate easily. Of the rest, plain fluids above all, no row means no known trouble.
MATTER: Final = (
    "vasoactive", "insulin", "propofol", "amiodarone", "heparin", "phenytoin", "alteplase",
    "sodium_bicarbonate", "phosphate", "aminophylline", "nitroprusside", "nicardipine",
    "thiopental", "calcium_chloride", "calcium_gluconate", "magnesium_sulfate",
)  # fmt: skip


def clashing_pairs(case: Case, _: Limits) -> Iterator[Finding]:
    """Pairs the table keeps apart, or that somebody here signed for, one finding each."""
    for one, other in pairs_of(case):
        way = way_between(case, one, other)
        if way not in SHARED or _has_its_own_rule(one, other):
            continue
        first, second = substance_of(one), substance_of(other)
        fact, note = case.pairs.between(first, second), note_of(case, one, other)
        if note is not None:
            yield signed_finding(one, other, note)
        elif fact is not None:
            disputed = case.pairs.is_disputed(first, second)
            yield from _said(one, other, way, _Clash(fact, disputed))


@dataclass(frozen=True, slots=True)
class _Clash:
    """The fact that counts. disputed: another source says that they may run together, or may on a
    condition.
    """

    fact: PairFact
    disputed: bool


def _said(one: Infusion, other: Infusion, way: Sharing, clash: _Clash) -> Iterator[Finding]:
    """What a fact means here; nothing where they may run together."""
    fact, level = clash.fact, _level(way, clash, one, other)
    if level is None:
        return
    names = f"{opening(short(name_of(one)))} {HOW[way]} {short(name_of(other))}"
    because = f": {fact.mechanism}" if fact.mechanism else ""
    summary = f"{names}{because}."
    if len(summary) > SUMMARY_AT_MOST:
        summary = f"{names}."
    yield Finding(
        level,
        summary,
        f"{_verdict(fact)} {_place(one, way)} Source: {fact.source.work}"
        f"{'' if fact.source.seen else ', from memory'}."
        f"{' Another source says that they may, or on a condition.' if clash.disputed else ''}",
        figures={"verdict": fact.verdict, "line": way},
        order_ids=order_ids_of(one, other),
    )


def _level(way: Sharing, clash: _Clash, one: Infusion, other: Infusion) -> Level | None:
    """Loud for a pair named in itself; a rule about any drug or fluid is general, and quieter, and
    so are sources that differ.

    Two doses on one lumen are given in turn unless it is written that they run together.
    """
    fact = clash.fact
    if not fact.never_at_once:
        return "info" if way == "together" and fact.verdict == "only if" else None
    doses = is_dose(one) and is_dose(other)
    if doses and not _written_together(one, other):
        return "info" if way == "together" else None
    if fact.is_general:
        if NUTRITION in (fact.a, fact.b):
            return None
        pushed = isinstance(one, Order) and is_dose(other)
        return "info" if pushed else "warning"
    return "critical" if way == "together" and not clash.disputed else "warning"


def _written_together(one: Infusion, other: Infusion) -> bool:
    return any(isinstance(e, CoInfusion) and e.arrangement == "together" for e in (one, other))


def _verdict(fact: PairFact) -> str:
    condition = f": {fact.condition}" if fact.condition else ""
    verdict = "only so" if fact.verdict == "only if" and condition else fact.verdict
    return f"{opening(verdict)}{condition}."


def _place(one: Infusion, way: Sharing) -> str:
    if way == "one lumen":
        return "The patient has one lumen and no flush between the two is written."
    return f"Both run on {one.lumen}." if one.lumen else "They are written to run together."


def _has_its_own_rule(one: Infusion, other: Infusion) -> bool:
    """Blood and ceftriaxone with calcium are spoken of elsewhere."""
    both = (one, other)
    if any(isinstance(each, CoInfusion) and is_blood(each) for each in both):
        return True
    return any(holds(each, "ceftriaxone") for each in both) and any(
        holds(each, "calcium") for each in both
    )


def unknown_pairs(case: Case, _: Limits) -> Iterator[Finding]:
    """Drugs that matter on one lumen, of which nothing is known together: one finding a lumen."""
    for lumen in _in_question(case, frozenset({"together"}), _nothing_known):
        yield Finding(
            "warning",
            f"No data on {short(name_of(lumen.one))} with {short(name_of(lumen.other))} on one "
            f"lumen{lumen.more}.",
            f"On {lumen.name}: {lumen.told}. No data is not permission.",
            figures={"verdict": "no data", "line": lumen.name},
            order_ids=lumen.order_ids,
        )


def remembered_pairs(case: Case, _: Limits) -> Iterator[Finding]:
    """Two drugs said to run together by a source from memory: mentioned once for each lumen."""
    for lumen in _in_question(case, SHARED, _only_remembered):
        yield Finding(
            "info",
            f"{opening(short(name_of(lumen.one)))} with {short(name_of(lumen.other))} on one "
            f"lumen{lumen.more}: by a source from memory they may run together.",
            f"On {lumen.name}: {lumen.told}. The source is from memory: confirm with pharmacy.",
            figures={"verdict": "may run together", "line": lumen.name},
            order_ids=lumen.order_ids,
            do="Confirm with pharmacy that these drugs, at these strengths, may run together.",
        )


@dataclass(frozen=True, slots=True)
class _LumenInQuestion:
    """One lumen, the first pair on it that is asked about, and the rest counted and told."""

    name: str
    one: Infusion
    other: Infusion
    more: str
    told: str
    order_ids: tuple[str, ...]


def _in_question(
    case: Case, ways: Container[str], asked: Callable[[Case, Infusion, Infusion], bool]
) -> Iterator[_LumenInQuestion]:
    """Each lumen on which a pair that shares it in one of these ways is asked about."""
    by_lumen: dict[str, list[tuple[Infusion, Infusion]]] = {}
    for one, other in pairs_of(case):
        if way_between(case, one, other) not in ways or _has_its_own_rule(one, other):
            continue
        if asked(case, one, other):
            by_lumen.setdefault(one.lumen or "one line", []).append((one, other))
    for name, pairs in by_lumen.items():
        yield _LumenInQuestion(
            name,
            *pairs[0],
            more=f", and {len(pairs) - 1} more" if len(pairs) > 1 else "",
            told=listed(tuple(f"{name_of(a)} with {name_of(b)}" for a, b in pairs)),
            order_ids=order_ids_of(*(each for pair in pairs for each in pair)),
        )


def _only_remembered(case: Case, one: Infusion, other: Infusion) -> bool:
    """A row from memory about two drugs; a drug with the fluid that usually carries it is usual."""
    if (is_dose(one) and is_dose(other)) or not (_is_drug(one) and _is_drug(other)):
        return False
    fact = case.pairs.between(substance_of(one), substance_of(other))
    return fact is not None and fact.verdict == "may run together" and not fact.source.seen


def _is_drug(infusion: Infusion) -> bool:
    """A drug beside the fluids, or a bag that carries one."""
    if isinstance(infusion, Order):
        return infusion.carries_a_drug
    return infusion.kind == "drug" and not (
        infusion.diluent is not None and infusion.key == infusion.diluent.id
    )


def _nothing_known(case: Case, one: Infusion, other: Infusion) -> bool:
    if not (holds(one, *MATTER) and holds(other, *MATTER)) or (is_dose(one) and is_dose(other)):
        return False
    if note_of(case, one, other) is not None:
        return False
    first, second = substance_of(one), substance_of(other)
    if first.names & second.names:
        return False
    fact = case.pairs.between(first, second)
    return fact is None or fact.verdict == "no data"


CHECKS: Final = (clashing_pairs, unknown_pairs, remembered_pairs)

RULES: Final = (
    Rule(
        id="line-shared-lumen",
        title="Two infusions that clash in one lumen",
        trigger="Two infusions on the same lumen that the table keeps apart: critical where the "
        "lumen is named for both or they are written together, warning where the patient has one "
        "lumen or sources differ; info for two doses, for a dose into a fluid's line by a rule "
        "about any fluid, and for pairs allowed on a condition. Drugs that act within minutes or "
        "precipitate easily are a warning when nothing is known of them together; two drugs that "
        "may run together by a source from memory are info, and so is a pair that a signed local "
        "note of this unit lets run together, with who signed it and when.",
        unless="they run one after the other with a flush, or on other lumens; plain fluids with "
        "drugs they usually carry are left alone; blood, ceftriaxone with calcium and nutrition "
        "have their own rules",
        do="Use another lumen, or give them one after the other with a full flush; ask the "
        "pharmacist.",
        evidence="Each pair has its own source, most often the drug's label. Nothing known of a "
        "pair is said only for drugs where it matters.",
        sources=(LABELS, PRACTICE),
        levels=("critical", "warning", "info"),
        for_patient=lambda case, limits: (
            finding for check in CHECKS for finding in check(case, limits)
        ),
    ),
)
