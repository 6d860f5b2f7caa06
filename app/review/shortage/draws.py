"""What each patient's orders draw from stock in 24 hours, bag by bag. Pure."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Final, Literal

from app.catalogue.catalogue import Catalogue
from app.catalogue.fluid import ML_PER_L, Fluid
from app.catalogue.vehicles.vehicle import Vehicles
from app.cautions.day_loads import litres_in_day
from app.chemistry.composition import AMOUNT_FIELDS, Composition
from app.patient.case import Case
from app.patient.known import NotKnown
from app.patient.order import AdditiveDose, CoInfusion, Order
from app.review.ledger.giving import giving_of
from app.review.running.orders import goes_on
from app.review.shortage.packs import Bags, bags_a_day, bags_for

# order: a fluid order's bag; additive: what is put into one; carrier: what a drug comes in.
What = Literal["order", "additive", "carrier"]
# Two recipes are of one salt when their parts agree to a thousandth.
SAME_SALT_WITHIN: Final = 1e-3
# No bag that is hung is as small (common practice, no source).
LARGEST_VIAL_ML: Final = 50


@dataclass(frozen=True, slots=True)
class Draw:
    """One thing that is taken from stock.

    source: the order's id, or the drug as written. fluid: what is taken. ml_day: in 24 h as it
    runs, None when that cannot be told. size_ml: of the bags it comes in, None when not known.
    bags_day: how many. is_usual: only an adult's usual carrier, volume or times say so.
    """

    what: What
    source: str
    fluid: Fluid
    ml_day: float | None
    size_ml: float | None
    bags_day: float | None
    is_usual: bool = False


def draws_of(case: Case, catalogue: Catalogue, vehicles: Vehicles) -> tuple[Draw, ...]:
    """Everything that one patient's orders and drugs take from stock in 24 h.

    Orders are counted as the day's sums count them: a bag goes on when the next is hung after it,
    else its volume is all. An order whose name fits several fluids, one that does not run, and a
    drug whose carrier nobody wrote and none is usual, draw nothing here.
    """
    return (*_of_orders(case, catalogue), *_of_drugs(case, vehicles))


def _of_orders(case: Case, catalogue: Catalogue) -> Iterator[Draw]:
    for order in case.orders:
        litres = litres_in_day(order, case)
        if order.fluid is not None and not order.candidates:
            ml_day = None if litres is None else litres * ML_PER_L
            bags = bags_for(order.volume_ml, order.fluid.pack_sizes_ml)
            yield _of_bags(order, order.fluid, ml_day, bags, once=not goes_on(order, case))
        for dose in order.additives:
            yield from _of_additive(order, dose, litres, catalogue)


def _of_bags(
    order: Order, fluid: Fluid, ml_day: float | None, bags: Bags | None, *, once: bool
) -> Draw:
    size = None if bags is None else bags.size_ml
    each = None if bags is None or ml_day is None else bags_a_day(ml_day, bags, once=once)
    return Draw("order", order.id, fluid, ml_day, size, each)


def _of_additive(
    order: Order, dose: AdditiveDose, litres: float | None, catalogue: Iterable[Fluid]
) -> Iterator[Draw]:
    """What is put into the bag, as the concentrate that it is drawn up from."""
    made_from = concentrates_of(dose, catalogue)
    if not made_from:
        return
    concentrate, ml = made_from[0]
    times = litres if dose.per_litre else _bags_in(order, litres)
    bags = bags_for(ml, concentrate.pack_sizes_ml)
    yield Draw(
        "additive",
        order.id,
        concentrate,
        None if times is None else ml * times,
        None if bags is None else bags.size_ml,
        None if bags is None or times is None else bags.bags * times,
    )


def concentrates_of(
    dose: AdditiveDose, catalogue: Iterable[Fluid]
) -> tuple[tuple[Fluid, float], ...]:
    """What an additive may be drawn up from, with how many mL hold it; the strongest first, which
    is the one that is counted, for nobody writes which.
    """
    vials = (fluid for fluid in catalogue if is_vial(fluid))
    made_from = ((fluid, ml_of(fluid, dose.added)) for fluid in vials)
    found = [(fluid, ml) for fluid, ml in made_from if ml is not None]
    return tuple(sorted(found, key=lambda pair: (pair[1], pair[0].id)))


def is_vial(fluid: Fluid) -> bool:
    """A concentrate, or what comes only in vials: it is drawn up and put into a bag."""
    largest = max(fluid.pack_sizes_ml, default=None)
    return fluid.kind == "concentrate" or (largest is not None and largest <= LARGEST_VIAL_ML)


def _bags_in(order: Order, litres: float | None) -> float | None:
    if litres is None or not order.volume_ml:
        return None
    return litres * ML_PER_L / order.volume_ml


def ml_of(concentrate: Fluid, added: Composition) -> float | None:
    """How many mL of a concentrate hold what is added; None where it is another salt."""
    held, wanted = concentrate.composition, added
    first = next((name for name in AMOUNT_FIELDS if getattr(wanted, name)), None)
    if first is None or not getattr(held, first):
        return None
    litres = float(getattr(wanted, first) / getattr(held, first))
    for name in AMOUNT_FIELDS:
        here, there = getattr(wanted, name) or 0.0, (getattr(held, name) or 0.0) * litres
        if abs(here - there) > SAME_SALT_WITHIN * max(abs(here), abs(there)):
            return None
    return litres * ML_PER_L


def _of_drugs(case: Case, vehicles: Vehicles) -> Iterator[Draw]:
    adult = _is_adult(case)
    for other in case.co_infusions:
        if other.carried_by or other.kind != "drug":
            continue
        draw = _of_drug(other, vehicles, adult=adult)
        if draw is not None:
            yield draw


def _of_drug(other: CoInfusion, vehicles: Vehicles, *, adult: bool) -> Draw | None:
    """The bag a drug is given in, by its words or as usual in an adult."""
    usual = vehicles.get(other.key)
    fluid = other.diluent
    usual_fluid = fluid is None and usual is not None and adult
    if usual_fluid and usual is not None and not usual.carrier_varies:
        fluid = usual.fluid
    if fluid is None:
        return None
    giving = giving_of(other, usual, adult=adult)
    doses = giving.doses or giving.times or None
    size = giving.day_ml / doses if giving.day_ml and doses else None
    return Draw(
        "carrier", other.name, fluid, giving.day_ml, size, doses, usual_fluid or giving.is_usual
    )  # fmt: skip


def _is_adult(case: Case) -> bool:
    try:
        return case.patient.is_adult()
    except NotKnown:
        return False


@dataclass(frozen=True, slots=True)
class Use:
    """What is used of one fluid in 24 h.

    ml_day, bags_day by size (mL): the sums of all that could be counted; not_counted: how many
    draws could not be. orders, additives, carriers: how many draws of each sort.
    """

    fluid: Fluid
    ml_day: float = 0.0
    bags_day: Mapping[float, float] = field(default_factory=lambda: MappingProxyType({}))
    orders: int = 0
    additives: int = 0
    carriers: int = 0
    not_counted: int = 0

    @property
    def is_at_least(self) -> bool:
        """True where something that is used could not be counted."""
        return self.not_counted > 0


def use_of(draws: Iterable[Draw]) -> Mapping[str, Use]:
    """The sums by fluid id, the most used first."""
    by_fluid: dict[str, list[Draw]] = {}
    for draw in draws:
        by_fluid.setdefault(draw.fluid.id, []).append(draw)
    uses = (_sum(many) for many in by_fluid.values())
    ranked = sorted(uses, key=lambda use: (-use.ml_day, use.fluid.id))
    return MappingProxyType({use.fluid.id: use for use in ranked})


def _sum(draws: list[Draw]) -> Use:
    bags: dict[float, float] = {}
    for draw in draws:
        if draw.size_ml is not None and draw.bags_day is not None:
            bags[draw.size_ml] = bags.get(draw.size_ml, 0.0) + draw.bags_day
    kinds = [draw.what for draw in draws]
    return Use(
        fluid=draws[0].fluid,
        ml_day=sum(draw.ml_day or 0.0 for draw in draws),
        bags_day=MappingProxyType(dict(sorted(bags.items(), reverse=True))),
        orders=kinds.count("order"),
        additives=kinds.count("additive"),
        carriers=kinds.count("carrier"),
        not_counted=sum(draw.ml_day is None for draw in draws),
    )
