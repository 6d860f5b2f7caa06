"""Salts that fall out together in one bag, and drugs of which nothing is known in one bag."""

from collections.abc import Iterator
from itertools import combinations
from typing import Final

from app.catalogue.pairs.fact import PairFact
from app.catalogue.pairs.substance import Substance
from app.catalogue.source import Source
from app.cautions.cited import PRACTICE
from app.cautions.phrases import bag_name, infusion_name, listed, number, opening, short
from app.cautions.rule import Finding, Level, Limit, Limits, Rule
from app.patient.case import Case, Situation
from app.patient.order import AdditiveDose, CoInfusion, Order
from app.physiology.calcium import order_brings_calcium

BICARBONATE_LABEL: Final = Source("US sodium bicarbonate injection label", seen=False)
PRECIPITATE_1994: Final = Source("US safety alert on calcium phosphate in nutrition, 1994")
PHOSPHATE_LABEL: Final = Source("US potassium phosphates injection label", seen=False)

NUTRITION: Final = "parenteral_nutrition"
# Salts, insulin and vitamins that bags commonly hold together; what they clash with is in the
# table of pairs or in the two rules on calcium. Common practice, no source.
USUAL_TOGETHER: Final = frozenset(
    {
        *("potassium_chloride", "potassium_acetate", "potassium_phosphate", "sodium_chloride"),
        *("sodium_acetate", "sodium_lactate", "sodium_phosphate", "sodium_bicarbonate"),
        *("sodium_glycerophosphate", "potassium_dihydrogen_phosphate", "dipotassium_phosphate"),
        *("magnesium_sulfate", "magnesium_chloride", "calcium_gluconate", "calcium_chloride"),
        *("dextrose", "glucose", "insulin", "thiamine", "multivitamin", "folic_acid", "zinc"),
        *("vitamin_c", "vitamin_b12", "trace_elements", "pyridoxine", "selenium", "vitamin_k"),
        *("potassium", "sodium", "magnesium", "calcium", "phosphate", "acetate", "chloride"),
        *("lipid", "lipid_emulsion", "amino_acids"),
    }
)


def bicarbonate_with_calcium(situation: Situation, _: Limits) -> Iterator[Finding]:
    """Bicarbonate and calcium in one bag."""
    order = situation.order
    adds = _adds(order, "bicarbonate")
    base = order.fluid is not None and order.fluid.composition.bicarbonate_mmol_l > 0
    if (adds or (base and _adds(order, "calcium"))) and order_brings_calcium(order):
        yield _chalk(bag_name(order), order)


def bicarbonate_in_a_calcium_diluent(case: Case, _: Limits) -> Iterator[Finding]:
    """Bicarbonate made up in a fluid that holds calcium."""
    for other in case.co_infusions:
        if "bicarbonate" in other.contents and _diluent_holds_calcium(other):
            yield _chalk(short(other.diluent.name) if other.diluent else "", None)


def _diluent_holds_calcium(other: CoInfusion) -> bool:
    if other.carried_by or other.diluent is None or other.diluent.id == other.key:
        return False
    return other.diluent.composition.calcium_mmol_l > 0


def _chalk(bag: str, order: Order | None) -> Finding:
    mix = order.mix if order else None
    holds = f" (calcium {number(mix.calcium_mmol_l)} mmol/L)" if mix else ""
    return Finding(
        "critical",
        f"Bicarbonate and calcium in one bag of {bag}{holds}: chalk falls out.",
        f"{opening(bag)}{holds} with bicarbonate: calcium carbonate precipitates in the bag.",
        figures={"calcium_mmol_l": mix.calcium_mmol_l if mix else bag},
    )


def phosphate_with_calcium(situation: Situation, limits: Limits) -> Iterator[Finding]:
    """Phosphate and calcium in one bag that is no nutrition."""
    order = situation.order
    if any(additive.substance == NUTRITION for additive in order.additives):
        return
    base = order.fluid is not None and order.fluid.composition.phosphate_mmol_l > 0
    if not (_adds(order, "phosphate") or (base and _adds(order, "calcium"))):
        return
    if not order_brings_calcium(order):
        return
    product = order.mix.calcium_mmol_l * order.mix.phosphate_mmol_l if order.mix else None
    faint = product is not None and product <= limits["product_mmol2_l2"]
    yield _stone("warning" if faint and not _adds(order, "calcium") else "critical", order)


def _stone(level: Level, order: Order) -> Finding:
    mix = order.mix
    calcium, phosphate = (mix.calcium_mmol_l, mix.phosphate_mmol_l) if mix else (0.0, 0.0)
    holds = f" ({number(calcium)} and {number(phosphate)} mmol/L)" if mix else ""
    return Finding(
        level,
        f"Calcium and phosphate in one bag of {bag_name(order)}{holds}: they may precipitate.",
        f"{opening(bag_name(order))} with "
        f"{listed(tuple(a.as_written for a in order.additives))}: calcium phosphate may "
        "precipitate unseen and lodge in the lungs.",
        figures={"calcium_mmol_l": calcium, "phosphate_mmol_l": phosphate},
        limits=("product_mmol2_l2",) if mix else (),
    )


def phosphate_in_a_calcium_diluent(case: Case, _: Limits) -> Iterator[Finding]:
    """Phosphate made up in a fluid that holds calcium."""
    for other in case.co_infusions:
        if other.kind == "drug" and "phosphate" in other.contents and _diluent_holds_calcium(other):
            fluid = short(other.diluent.name) if other.diluent else ""
            yield Finding(
                "critical",
                f"{opening(infusion_name(other))} is made up in {fluid}, which holds calcium.",
                f"{opening(fluid)} holds calcium; calcium phosphate may precipitate unseen.",
                figures={"diluent": fluid},
            )


def _adds(order: Order, salt: str) -> bool:
    """True when an additive is this salt, whether or not its amount could be read."""
    field = f"{salt}_mmol_l"
    return any(getattr(a.added, field) or salt in a.substance.lower() for a in order.additives)


def drugs_in_one_bag(situation: Situation, _: Limits) -> Iterator[Finding]:
    """Two additives that the table keeps apart, or of which one is a drug and nothing is known."""
    order = situation.order
    doses = {dose.substance: dose for dose in order.additives if dose.substance != NUTRITION}
    for one, other in combinations(doses.values(), 2):
        fact = situation.case.pairs.in_one_bag(_substance(one), _substance(other))
        level = _level_in_one_bag(one, other, fact)
        if level is None:
            continue
        names = f"{_plain(one)} and {_plain(other)}"
        known = _known(fact)
        yield Finding(
            level,
            f"{opening(names)} in one bag of {bag_name(order)}.",
            f"{opening(names)}: {known}. The bag has {len(order.additives)} additives.",
            figures={"additives": len(order.additives)},
        )


def _known(fact: PairFact | None) -> str:
    if fact is not None and fact.verdict != "may run together" and fact.mechanism:
        return fact.mechanism
    if fact is not None and fact.verdict == "may run together":
        return "they may run together by Y-site; nothing is known of them in one bag"
    return "nothing is known of them together"


def _level_in_one_bag(
    one: AdditiveDose, other: AdditiveDose, fact: PairFact | None
) -> Level | None:
    if _calcium_rules_speak(one, other):
        return None
    if fact is not None and fact.never_at_once:
        return "warning"
    if one.substance in USUAL_TOGETHER and other.substance in USUAL_TOGETHER:
        return "info" if fact is not None and fact.verdict == "only if" else None
    if fact is None or fact.verdict != "may run together":
        return "warning"
    return None if fact.contact == "same bag" else "info"


def _calcium_rules_speak(one: AdditiveDose, other: AdditiveDose) -> bool:
    both = f"{one.substance} {other.substance}"
    return "calcium" in both and ("phosphate" in both or "bicarbonate" in both)


def _substance(dose: AdditiveDose) -> Substance:
    marks = {"phosphate"} if dose.added.phosphate_mmol_l else set()
    return Substance(frozenset({dose.substance}), frozenset(marks))


def _plain(dose: AdditiveDose) -> str:
    return dose.substance.replace("_", " ")


RULES: Final = (
    Rule(
        id="add-bicarb-ca",
        title="Bicarbonate and calcium in one bag",
        trigger="Sodium bicarbonate put into a fluid that holds calcium, or calcium into "
        "bicarbonate.",
        unless="the base fluid holds no calcium",
        do="Put it into 5% dextrose or sterile water; discard a bag already mixed.",
        evidence="Calcium carbonate precipitates; the label forbids it.",
        sources=(BICARBONATE_LABEL,),
        needs=("fluid",),
        levels=("critical",),
        for_order=bicarbonate_with_calcium,
        for_patient=bicarbonate_in_a_calcium_diluent,
    ),
    Rule(
        id="ca-phos-mix",
        title="Calcium and phosphate in one bag",
        trigger="Phosphate put into a bag that holds calcium, or calcium into one with phosphate; "
        "a warning where the fluid's own calcium times phosphate is at most 20.",
        unless="it is nutrition made by a pharmacy, or a fluid sold with both",
        do="Give them by separate lines; ask the pharmacist before any such bag is hung.",
        evidence="Two deaths in 1994 from calcium phosphate in nutrition led to the alert. Labels "
        "of phosphate forbid fluids with calcium; a product of concentrations is a crude guide.",
        sources=(PRECIPITATE_1994, PHOSPHATE_LABEL),
        needs=("fluid",),
        limits=(
            Limit("product_mmol2_l2", 20, "mmol²/L²", "product that seldom precipitates", PRACTICE),
        ),
        levels=("critical", "warning"),
        for_order=phosphate_with_calcium,
        for_patient=phosphate_in_a_calcium_diluent,
    ),
    Rule(
        id="add-two",
        title="Additives that may not go together in one bag",
        trigger="Two additives in one bag that the table of pairs keeps apart, or of which at "
        "least one is a drug and nothing is known of the two in one bag: warning; info where they "
        "are only known to pass by Y-site.",
        unless="both are salts, insulin or vitamins that bags commonly hold together; calcium with "
        "phosphate or bicarbonate has its own rule",
        do="Ask the pharmacist before it is mixed; give one of them by itself.",
        evidence="Potassium with sodium, magnesium, insulin or vitamins is daily practice. Drugs "
        "are tested alone in a bag, seldom in pairs.",
        sources=(PRACTICE,),
        levels=("warning", "info"),
        for_order=drugs_in_one_bag,
    ),
)
