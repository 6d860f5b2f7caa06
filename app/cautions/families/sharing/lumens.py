"""Too few lumens for what must run apart, and a nutrition lumen used for something else."""

import re
from collections.abc import Iterator, Sequence
from typing import Final

from app.catalogue.source import Source
from app.cautions.cited import PRACTICE
from app.cautions.phrases import are, listed, opening, short
from app.cautions.rule import Finding, Limits, Rule
from app.cautions.shared.fluid_facts import newborn
from app.cautions.shared.lines import is_blood
from app.cautions.shared.substances import (
    Infusion,
    infusions_of,
    name_of,
    order_ids_of,
    runs_on,
    substance_of,
)
from app.cautions.shared.veins import SHORT_H, hours_to_run
from app.patient.case import Case
from app.patient.known import NotKnown
from app.patient.order import CoInfusion, Order

NUTRITION_GUIDANCE: Final = Source("ESPEN and ASPEN guidance on parenteral nutrition", seen=False)
NUTRITION_ROLE: Final = re.compile(r"nutrition|\btpn\b|\bpn\b|feed")
NUTRITION: Final = ("parenteral_nutrition", "lipid_emulsion")
# From three that must run apart on, the number of lumens is worth asking for.
WORTH_ASKING: Final = 3


def too_few_lumens(case: Case, _: Limits) -> Iterator[Finding]:
    """More infusions that must each run apart than there are lumens."""
    apart = _largest_group(case)
    lumens = len(case.patient.access)
    if not lumens and len(apart) >= WORTH_ASKING:
        raise NotKnown("access", "missing", "how many lumens there are is not told")
    if not lumens or len(apart) <= lumens:
        return
    names = tuple(short(name_of(each)) for each in apart)
    yield Finding(
        "warning",
        f"{len(apart)} infusions must run apart and there {_are(lumens)}.",
        f"{opening(listed(names))} cannot share a lumen with each other.",
        figures={"apart": len(apart), "lumens": lumens},
        order_ids=order_ids_of(*apart),
    )


def _are(lumens: int) -> str:
    return "is 1 lumen" if lumens == 1 else f"are {lumens} lumens"


def _largest_group(case: Case) -> tuple[Infusion, ...]:
    """A group of which every two must run apart: from each infusion on, the largest found.

    A group found is surely apart; a larger one may be missed, so nothing is claimed wrongly.
    """
    running = [each for each in infusions_of(case) if _runs_on(each)]
    groups = [_grown(case, first, running) for first in running]
    return max(groups, key=len, default=())


def _grown(case: Case, first: Infusion, running: Sequence[Infusion]) -> tuple[Infusion, ...]:
    group = [first]
    for each in running:
        if each is not first and all(_must_be_apart(case, each, member) for member in group):
            group.append(each)
    return tuple(group)


def _runs_on(infusion: Infusion) -> bool:
    """Neither a bolus nor a dose: those can be given in turn."""
    if isinstance(infusion, CoInfusion):
        return infusion.kind != "drug" or runs_on(infusion)
    hours = hours_to_run(infusion)
    return not infusion.is_bolus and (hours is None or hours > SHORT_H)


def _must_be_apart(case: Case, one: Infusion, other: Infusion) -> bool:
    if _is_nutrition(one) != _is_nutrition(other):
        return True
    if _blood(one) or _blood(other):
        # A fluid can pause for a transfusion; a running drug cannot.
        return not (isinstance(one, Order) or isinstance(other, Order) or _both_blood(one, other))
    fact = case.pairs.between(substance_of(one), substance_of(other))
    return fact is not None and fact.never_at_once


def _blood(infusion: Infusion) -> bool:
    return isinstance(infusion, CoInfusion) and is_blood(infusion)


def _both_blood(one: Infusion, other: Infusion) -> bool:
    return _blood(one) and _blood(other)


def _is_nutrition(infusion: Infusion) -> bool:
    if isinstance(infusion, CoInfusion):
        return infusion.kind == "nutrition" or infusion.key in NUTRITION
    return any(additive.substance in NUTRITION for additive in infusion.additives)


def nutrition_lumen_used(case: Case, _: Limits) -> Iterator[Finding]:
    """Something else on the lumen that nutrition runs on, or that is kept for it."""
    everything = infusions_of(case)
    kept = {lumen.id for lumen in case.patient.access if NUTRITION_ROLE.search(lumen.role.lower())}
    used = {each.lumen for each in everything if _is_nutrition(each) and each.lumen}
    for lumen in sorted(kept | used):
        others = [e for e in everything if e.lumen == lumen and not _is_nutrition(e)]
        if not others:
            continue
        names = tuple(short(name_of(each)) for each in others[:1])
        usual = newborn(case.patient) and all(map(_is_plain_running, others))
        yield Finding(
            "info" if usual else "warning",
            f"{opening(names[0])} {are(names[0])} on {lumen}, the lumen of parenteral nutrition.",
            f"{opening(listed(tuple(short(name_of(e)) for e in others)))} on {lumen}. Each time "
            "the line is opened germs get in, and drugs can break the emulsion.",
            figures={"line": lumen},
            order_ids=order_ids_of(*others),
        )


def _is_plain_running(infusion: Infusion) -> bool:
    return isinstance(infusion, Order) and not infusion.additives and not infusion.is_bolus


RULES: Final = (
    Rule(
        id="line-lumen-count",
        title="More infusions than lumens",
        trigger="A group of running infusions of which every two must run apart is larger than "
        "the number of lumens.",
        unless="they can be given in turn: boluses, doses, and fluids that pause for a "
        "transfusion are not counted",
        do="Change the times of what can wait, or ask for more access; see the line plan.",
        evidence="Counted from the table of pairs; nutrition and blood run alone.",
        sources=(PRACTICE,),
        needs=("access",),
        levels=("warning",),
        for_patient=too_few_lumens,
    ),
    Rule(
        id="line-catheter-tpn",
        title="Nutrition lumen used for something else",
        trigger="A fluid or drug on the lumen that parenteral nutrition runs on, or that is kept "
        "for it; a plain fluid that runs beside it in a newborn is info.",
        unless="it is the nutrition's own lipid or amino acids",
        do="Give it by another lumen and keep this one for nutrition.",
        evidence="A lumen kept for nutrition alone is infected less often; drugs can crack the "
        "emulsion or precipitate with calcium and phosphate.",
        sources=(NUTRITION_GUIDANCE,),
        levels=("warning", "info"),
        for_patient=nutrition_lumen_used,
    ),
)
