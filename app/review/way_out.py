"""Another fluid that clears a finding: found by judging the order again with each candidate."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import partial
from typing import Final

from app.catalogue.catalogue import Catalogue
from app.catalogue.fluid import Fluid
from app.cautions.assess import Found, Ruleset, assess_patient
from app.cautions.phrases import listed, number, opening, short
from app.cautions.rule import LEVELS
from app.chemistry.composition import Composition
from app.patient.case import Case
from app.patient.mixture import mixture
from app.patient.order import AdditiveDose, Order
from app.review.assess import judge_order

AT_MOST: Final = 3
LOUD_TO: Final = LEVELS.index("warning")
POTASSIUM_BALANCED_MMOL_L: Final = 5.5
POTASSIUM_PREMIXED_MMOL_L: Final = 10.0
# Base so strong that it is a treatment, not a fluid.
BICARBONATE_GIVEN_MMOL_L: Final = 50.0
SODIUM_OF_STRONG_MMOL_L: Final = 160.0
# Findings that no other fluid clears: rate, weight, data and words.
FLUID_MATTERS_IN_ORD: Final = ("ord-sodium-total", "ord-chloride-total")
NO_FLUID_CLEARS: Final = ("ord", "data", "order")
WANTS_POTASSIUM: Final = ("k-dka-none",)
COMPARED: Final = (
    "sodium", "potassium", "calcium", "magnesium", "chloride", "lactate", "acetate", "gluconate",
)  # fmt: skip
# Findings that a fluid nearer to plasma in sodium and potassium answers best.
TOO_LITTLE_SALT: Final = ("na-hypotonic", "na-brain", "na-postop", "preg-oxytocin")
PLASMA_SALT_MMOL_L: Final = 145.0
SODIUM_KEPT_WITHIN_MMOL_L: Final = 30.0
NOTABLE_MMOL_L: Final = 0.5
# Weight of glucose in the distance, mmol for each g/L, so that sugar does not drown the salts.
GLUCOSE_WEIGHT: Final = 2.0
NAMED_AT_MOST: Final = 4
# A difference of 1 mmol/L in these counts as much as this many in sodium.
SMALL_IONS: Final = {"potassium": 8.0, "calcium": 20.0, "magnesium": 10.0}
# Rules that find something, with the worst rank of each.
Ranks = Mapping[str, int]


@dataclass(frozen=True, slots=True)
class Alternative:
    """A catalogue fluid that would clear a finding, and why it does.

    drops_potassium: the potassium that was to be added is left out of the bag.
    """

    fluid: Fluid
    why: str
    drops_potassium: bool = False


@dataclass(slots=True)
class WaysOut:
    """Other fluids for one order, each judged at most once whatever is asked.

    Purpose, volume, rate and additives stay; potassium is left out of the bag where it is itself
    the finding. never: fluids that are not on the shelf, by id.
    """

    order: Order
    case: Case
    catalogue: Catalogue
    ruleset: Ruleset
    never: frozenset[str] = frozenset()
    _judged: dict[tuple[str, bool], Ranks] = field(default_factory=dict)

    def alternatives(self, found: Found) -> tuple[Alternative, ...]:
        """Up to three fluids that clear a loud finding and bring none; empty when none does.

        Those that leave nothing loud that a fluid could clear come alone when there are any.
        """
        if self.order.fluid is None or not _a_fluid_could_clear(found):
            return ()
        return self._first(found, self._leaves_nothing) or self._first(found, self._brings_none)

    def _first(self, found: Found, fits: Callable[[Ranks], bool]) -> tuple[Alternative, ...]:
        """The first few candidates that clear the finding and fit, each composition once."""
        assert self.order.fluid is not None
        ways: dict[Composition, Alternative] = {}
        for fluid, drops in self._candidates(self.order.fluid, found):
            after = self._ranks(fluid, drops)
            if fluid.composition in ways or found.rule.id in after or not fits(after):
                continue
            ways[fluid.composition] = Alternative(fluid, _why(self.order, fluid, drops), drops)
            if len(ways) == AT_MOST:
                break
        return tuple(ways.values())

    def _leaves_nothing(self, after: Ranks) -> bool:
        return self._brings_none(after) and not any(map(_fluid_decides, _loud(after)))

    def _brings_none(self, after: Ranks) -> bool:
        """Nothing loud is new or worse than with the fluid ordered."""
        before = self._ranks(None, False)
        return all(after[rule_id] >= before.get(rule_id, len(LEVELS)) for rule_id in _loud(after))

    def _candidates(self, now: Fluid, found: Found) -> Iterator[tuple[Fluid, bool]]:
        """Fluids fit for the purpose: one the rule names, same tonicity, nearest composition."""
        wants = found.rule.id in WANTS_POTASSIUM
        drops = not wants and any(
            rule_id.startswith("k-") for rule_id in _loud(self._ranks(None, False))
        )
        drops = drops and any(_brings_potassium(a) for a in self.order.additives)
        if drops:
            yield now, True
        fluids = [f for f in self.catalogue if f.id not in self.never and f is not now]
        alike = [f for f in fluids if _same_sort(now, f, wants) and _fits(self.order, f)]
        advice = found.finding.do or found.rule.do
        named = [f for f in alike if f.name in advice]
        saltier = found.rule.id.startswith(TOO_LITTLE_SALT)
        rest = sorted((f for f in alike if f not in named), key=partial(_preference, now, saltier))
        for fluid in (*named, *rest):
            yield fluid, drops

    def _ranks(self, fluid: Fluid | None, drops: bool) -> Ranks:
        """What is found of this order as it is (None) or with another fluid."""
        key = (fluid.id if fluid else "", drops)
        if key not in self._judged:
            order = self.order if fluid is None else _swapped(self.order, fluid, drops)
            orders = tuple(order if o is self.order else o for o in self.case.orders)
            self._judged[key] = _ranks_of(order, replace(self.case, orders=orders), self.ruleset)
        return self._judged[key]


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
    whole = [
        f
        for f in assess_patient(case, ruleset).found
        if not f.finding.order_ids or order.id in f.finding.order_ids
    ]
    ranks: dict[str, int] = {}
    for found in (*judge_order(order, case, ruleset).found, *whole):
        rank = LEVELS.index(found.finding.level)
        ranks[found.rule.id] = min(rank, ranks.get(found.rule.id, rank))
    return ranks


def _loud(ranks: Ranks) -> tuple[str, ...]:
    return tuple(rule_id for rule_id, rank in ranks.items() if rank <= LOUD_TO)


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


def _same_sort(now: Fluid, other: Fluid, wants_potassium: bool) -> bool:
    """Something a ward would hang for the same purpose: nothing is given that was not asked for."""
    mine, its = now.composition, other.composition
    if other.never_hung or other.kind not in (now.kind, "crystalloid") or now.kind == "osmotic":
        return False
    if its.glucose_g_l and not mine.glucose_g_l:
        return False
    if wants_potassium:
        near = abs(its.sodium_mmol_l - mine.sodium_mmol_l) <= SODIUM_KEPT_WITHIN_MMOL_L
        return near and its.potassium_mmol_l >= POTASSIUM_PREMIXED_MMOL_L
    if its.bicarbonate_mmol_l >= BICARBONATE_GIVEN_MMOL_L > mine.bicarbonate_mmol_l:
        return False
    if its.potassium_mmol_l > max(POTASSIUM_BALANCED_MMOL_L, mine.potassium_mmol_l):
        return False
    if its.lactate_mmol_l >= BICARBONATE_GIVEN_MMOL_L > mine.lactate_mmol_l:
        return False
    return other.tonicity_class in (_tonicity_class(now), "isotonic")


def _tonicity_class(fluid: Fluid) -> str | None:
    """Added potassium makes a bag of saline hypertonic by count; it is an isotonic fluid still."""
    salt = fluid.composition.sodium_mmol_l
    strong = fluid.tonicity_class == "hypertonic" and salt > SODIUM_OF_STRONG_MMOL_L
    return fluid.tonicity_class if strong or fluid.tonicity_class == "hypotonic" else "isotonic"


def _fits(order: Order, other: Fluid) -> bool:
    """Only an isotonic crystalloid without glucose resuscitates; else any of the same sort."""
    if not order.is_bolus and order.purpose != "resuscitation":
        return True
    if order.fluid is not None and _tonicity_class(order.fluid) == "hypertonic":
        return True
    plain = other.kind == "crystalloid" and not other.composition.glucose_g_l
    return plain and other.tonicity_class == "isotonic"


def _preference(now: Fluid, saltier: bool, other: Fluid) -> tuple[bool, bool, float, float, str]:
    """Same tonicity and glucose first, then the nearest; where salt lacks, nearest to plasma."""
    mine, its = now.composition, other.composition
    sweet = bool(mine.glucose_g_l) != bool(its.glucose_g_l)
    away = abs(its.cation_salt_mmol_l - PLASMA_SALT_MMOL_L) if saltier else 0.0
    distance = _distance(mine, its)
    return other.tonicity_class != _tonicity_class(now), sweet, away, distance, other.id


def _distance(first: Composition, second: Composition) -> float:
    ions = sum(
        abs((first.ion_mmol_l(ion) or 0.0) - (second.ion_mmol_l(ion) or 0.0)) for ion in COMPARED
    )
    return ions + GLUCOSE_WEIGHT * abs(first.glucose_g_l - second.glucose_g_l)


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
