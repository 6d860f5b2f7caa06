"""Another fluid that clears a finding: found by judging the order again with each candidate."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import partial
from typing import Final

from app.catalogue.catalogue import Catalogue
from app.catalogue.fluid import Fluid
from app.catalogue.stock.stock import NOT_TOLD, NOTHING_TOLD, Stock, StockState
from app.cautions.assess import Found, Ruleset, assess_patient
from app.cautions.data_rules import DATA_RULES
from app.cautions.phrases import listed, number, opening, short
from app.cautions.rule import LEVELS
from app.chemistry.composition import Composition
from app.patient.case import Case
from app.patient.mixture import mixture
from app.patient.order import AdditiveDose, Order
from app.review.assess import OrderReview, Review, judge_order
from app.review.ways.alike import COMPARED, fluids_alike, tonicity_as_hung

AT_MOST: Final = 3
LOUD_TO: Final = LEVELS.index("warning")
# Findings that no other fluid clears: rate, weight, data and words.
FLUID_MATTERS_IN_ORD: Final = ("ord-sodium-total", "ord-chloride-total")
NO_FLUID_CLEARS: Final = ("ord", "data", "order")
WANTS_POTASSIUM: Final = ("k-dka-none",)
# Findings that a fluid nearer to plasma in sodium and potassium answers best.
TOO_LITTLE_SALT: Final = ("na-hypotonic", "na-brain", "na-postop", "preg-oxytocin")
NOTABLE_MMOL_L: Final = 0.5
NAMED_AT_MOST: Final = 4
# A difference of 1 mmol/L in these counts as much as this many in sodium.
SMALL_IONS: Final = {"potassium": 8.0, "calcium": 20.0, "magnesium": 10.0}
# Rules that find something, with the worst rank of each.
Ranks = Mapping[str, int]


@dataclass(frozen=True, slots=True)
class Alternative:
    """A catalogue fluid that would clear a finding, and why it does.

    drops_potassium: the potassium that was to be added is left out of the bag. stock: where the
    fluid is, as far as told.
    """

    fluid: Fluid
    why: str
    drops_potassium: bool = False
    stock: StockState = NOT_TOLD


@dataclass(slots=True)
class Tried:
    """The order with another fluid in its case. at_issue: what the few rules find by which the
    order itself wants another fluid; after: what all rules find, once that was asked.
    """

    order: Order
    case: Case
    at_issue: Ranks
    after: Ranks | None = None


@dataclass(slots=True)
class WaysOut:
    """Other fluids for one order, each judged at most once whatever is asked.

    Purpose, volume, rate and additives stay; potassium is left out of the bag where it is itself
    the finding. stock: what is out or withdrawn is never offered. before: what is found of the
    order as it is, where that is known already.
    """

    order: Order
    case: Case
    catalogue: Catalogue
    ruleset: Ruleset
    stock: Stock = NOTHING_TOLD
    before: Ranks | None = None
    _tried: dict[tuple[str, bool], Tried] = field(default_factory=dict)
    _decisive: Ruleset | None = None

    @staticmethod
    def of(
        review: Review, catalogue: Catalogue, ruleset: Ruleset, stock: Stock = NOTHING_TOLD
    ) -> "Mapping[str, WaysOut]":
        """Those of every order of a review by its id; nothing it found is sought again."""
        knows = partial(
            WaysOut, case=review.case, catalogue=catalogue, ruleset=ruleset, stock=stock
        )
        return {
            one.order.id: knows(one.order, before=_ranks_in(review, one)) for one in review.orders
        }

    def alternatives(self, found: Found) -> tuple[Alternative, ...]:
        """Up to three fluids that clear a loud finding and bring none; empty when none does.

        Those that leave nothing loud that a fluid could clear come alone when there are any.
        """
        if self.order.fluid is None or not _a_fluid_could_clear(found):
            return ()
        return self._first(found, leaves_some=False) or self._first(found, leaves_some=True)

    def stand_ins(self, *, premixed: bool = False) -> tuple[Fluid, ...]:
        """Fluids fit for the same purpose, whatever is found of the order, the nearest first.

        premixed: those that hold potassium as made, for an order that has it put in.
        """
        if self.order.fluid is None:
            return ()
        alike = fluids_alike(self.catalogue, self.order.fluid, premixed, False, self.stock)
        return tuple(fluid for fluid in alike if _fits(self.order, fluid))

    def case_with(self, fluid: Fluid) -> Case:
        """The case with another fluid in the order's place."""
        return self._try(fluid, drops=False).case

    def brings_nothing(self, fluid: Fluid) -> bool:
        """True when the review finds nothing loud that is new or worse with another fluid."""
        return self._brings_none(self._after(self._try(fluid, drops=False)))

    def _first(self, found: Found, *, leaves_some: bool) -> tuple[Alternative, ...]:
        """The first few candidates that clear the finding and bring none, each composition once.

        leaves_some: those count too that leave something loud which another fluid could clear.
        """
        assert self.order.fluid is not None
        ways: dict[Composition, Alternative] = {}
        for fluid, drops in self._candidates(self.order.fluid, found):
            tried = self._try(fluid, drops)
            # The few rules at issue go first: most candidates fail by them and need no more.
            if fluid.composition in ways or not _answers(tried.at_issue, found, leaves_some):
                continue
            after = self._after(tried)
            if _answers(after, found, leaves_some) and self._brings_none(after):
                ways[fluid.composition] = self._way(fluid, drops)
            if len(ways) == AT_MOST:
                break
        return tuple(ways.values())

    def _way(self, fluid: Fluid, drops: bool) -> Alternative:
        why = _why(self.order, fluid, drops)
        return Alternative(fluid, why, drops, self.stock.of(fluid.id))

    def _brings_none(self, after: Ranks) -> bool:
        """Nothing loud is new or worse than with the fluid ordered."""
        before = self._now()
        return all(after[rule_id] >= before.get(rule_id, len(LEVELS)) for rule_id in _loud(after))

    def _candidates(self, now: Fluid, found: Found) -> Iterator[tuple[Fluid, bool]]:
        """Fluids fit for the purpose: one the rule names, same tonicity, nearest composition."""
        wants = found.rule.id in WANTS_POTASSIUM
        too_much = not wants and any(rule_id.startswith("k-") for rule_id in _loud(self._now()))
        drops = too_much and any(map(_brings_potassium, self.order.additives))
        if drops and self.stock.may_offer(now.id):
            yield now, True
        saltier = found.rule.id.startswith(TOO_LITTLE_SALT)
        alike = fluids_alike(self.catalogue, now, wants, saltier, self.stock)
        fitting = [f for f in alike if _fits(self.order, f)]
        advice = found.finding.do or found.rule.do
        named = [f for f in self.catalogue if f.name in advice and f in fitting]
        for fluid in (*named, *(f for f in fitting if f not in named)):
            yield fluid, drops

    def _now(self) -> Ranks:
        """What is found of the order as it is."""
        if self.before is None:
            self.before = _ranks_of(self.order, self.case, self.ruleset)
        return self.before

    def _try(self, fluid: Fluid, drops: bool) -> Tried:
        """The order with another fluid, and what the rules at issue find of it."""
        key = (fluid.id, drops)
        if key not in self._tried:
            if self._decisive is None:
                self._decisive = self.ruleset.only(filter(_fluid_decides, _loud(self._now())))
            order = _swapped(self.order, fluid, drops)
            orders = tuple(order if o is self.order else o for o in self.case.orders)
            case = replace(self.case, orders=orders)
            self._tried[key] = Tried(order, case, _ranks_of(order, case, self._decisive))
        return self._tried[key]

    def _after(self, tried: Tried) -> Ranks:
        """What every rule finds with another fluid."""
        if tried.after is None:
            tried.after = _ranks_of(tried.order, tried.case, self.ruleset)
        return tried.after


def alternatives(
    found: Found, order: Order, case: Case, catalogue: Catalogue, ruleset: Ruleset
) -> tuple[Alternative, ...]:
    """Up to three fluids that clear one finding of one order; see WaysOut to ask for several."""
    return WaysOut(order, case, catalogue, ruleset).alternatives(found)


def _a_fluid_could_clear(found: Found) -> bool:
    if LEVELS.index(found.finding.level) > LOUD_TO:
        return False
    return _fluid_decides(found.rule.id)


def _fluid_decides(rule_id: str) -> bool:
    """False for findings about rate, weight, words and data, whatever the fluid."""
    return rule_id in FLUID_MATTERS_IN_ORD or rule_id.split("-")[0] not in NO_FLUID_CLEARS


def _ranks_of(order: Order, case: Case, ruleset: Ruleset) -> Ranks:
    """What these rules find of an order in its case."""
    own, whole = judge_order(order, case, ruleset), assess_patient(case, ruleset)
    return _ranks(order, own.found, whole.found)


def _ranks_in(review: Review, one: OrderReview) -> Ranks:
    """The same from a review that was made; what it asks of the whole patient is left out."""
    whole = (f for f in review.patient_found if f.rule not in DATA_RULES)
    return _ranks(one.order, one.found, whole)


def _ranks(order: Order, own: Iterable[Found], whole: Iterable[Found]) -> Ranks:
    ranks: dict[str, int] = {}
    concerned = (f for f in whole if not f.finding.order_ids or order.id in f.finding.order_ids)
    for found in (*own, *concerned):
        rank = LEVELS.index(found.finding.level)
        ranks[found.rule.id] = min(rank, ranks.get(found.rule.id, rank))
    return ranks


def _loud(ranks: Ranks) -> tuple[str, ...]:
    return tuple(rule_id for rule_id, rank in ranks.items() if rank <= LOUD_TO)


def _answers(ranks: Ranks, found: Found, leaves_some: bool) -> bool:
    if found.rule.id in ranks:
        return False
    return leaves_some or not any(map(_fluid_decides, _loud(ranks)))


def _swapped(order: Order, fluid: Fluid, drops: bool) -> Order:
    additives = tuple(a for a in order.additives if not (drops and _brings_potassium(a)))
    return replace(
        order,
        written=fluid.name,
        fluid=fluid,
        additives=additives,
        mix=mixture(fluid, additives, order.volume_ml),
    )


def _brings_potassium(additive: AdditiveDose) -> bool:
    return additive.added.potassium_mmol_l > 0


def _fits(order: Order, other: Fluid) -> bool:
    """Only an isotonic crystalloid without glucose resuscitates; else any of the same sort."""
    if not order.is_bolus and order.purpose != "resuscitation":
        return True
    if order.fluid is not None and tonicity_as_hung(order.fluid) == "hypertonic":
        return True
    plain = other.kind == "crystalloid" and not other.composition.glucose_g_l
    return plain and other.tonicity_class == "isotonic"


def _why(order: Order, fluid: Fluid, drops: bool) -> str:
    """What differs from the ordered bag, in words; the finding is gone and none is new."""
    assert order.fluid is not None
    added = _additives_in_words(order, drops)
    if fluid is order.fluid:
        return f"The same fluid {added}: this finding goes and no other comes."
    differs = listed(_differences(order.fluid.composition, fluid.composition)) or "same salts"
    told = "; ".join(part for part in (differs, added) if part)
    return f"{opening(told)}: this finding goes and no other comes."


def _additives_in_words(order: Order, drops: bool) -> str:
    """What is left out of the bag, and what stays in it."""
    left_out = tuple(a for a in order.additives if drops and _brings_potassium(a))
    kept = tuple(short(a.as_written) for a in order.additives if a not in left_out)
    without = f"without the added potassium ({short(left_out[0].as_written)})" if left_out else ""
    with_kept = f"with {listed(kept)} as ordered" if kept else ""
    return " and ".join(part for part in (without, with_kept) if part)


def _differences(now: Composition, other: Composition) -> tuple[str, ...]:
    """The few differences that matter most, the largest first."""
    told: list[tuple[float, str]] = []
    for ion in COMPARED:
        was, will = now.ion_mmol_l(ion), other.ion_mmol_l(ion)
        if was is None or will is None or abs(was - will) < NOTABLE_MMOL_L:
            continue
        now_was = f" instead of {number(was)}" if was else ""
        words = f"{ion} {number(will)}{now_was} mmol/L" if will else f"no {ion}"
        told.append((-abs(was - will) * SMALL_IONS.get(ion, 1.0), words))
    sugar = _glucose_in_words(now.glucose_g_l, other.glucose_g_l)
    return (*sugar, *(words for _, words in sorted(told)[:NAMED_AT_MOST]))


def _glucose_in_words(was: float, will: float) -> tuple[str, ...]:
    if abs(was - will) < NOTABLE_MMOL_L:
        return ()
    return (f"glucose {number(will)} instead of {number(was)} g/L" if will else "no glucose",)
