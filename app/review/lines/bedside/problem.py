"""A patient's case as a line problem over the shift, and all that is not in it, said. Pure."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from typing import Final

from app.catalogue.catalogue import Catalogue
from app.catalogue.pairs.answer import PairBook
from app.catalogue.stock.stock import NOTHING_TOLD, Stock
from app.catalogue.vehicles.vehicle import Vehicles
from app.cautions.assess import Ruleset
from app.cautions.phrases import opening
from app.cautions.shared.lines import is_blood
from app.cautions.shared.substances import Infusion, infusions_of
from app.lines import model
from app.lines.flush import SALINE, FlushFluid
from app.lines.model import KeepApart, Problem
from app.patient.case import Case
from app.patient.order import CoInfusion, Order
from app.review.lines.bedside.central import why_central
from app.review.lines.bedside.doing.spoiling import GLUCOSE, bears_glucose, salt_spoils
from app.review.lines.bedside.doing.surge import surges
from app.review.lines.bedside.lumens import Access, access_of
from app.review.lines.bedside.naming import names_of
from app.review.lines.bedside.pausing import pause_of, role_of
from app.review.lines.bedside.settings import FLUSH_MIN, HORIZON_MIN, MOST_AT_ONCE, STEP_MIN
from app.review.lines.bedside.timing import Piece, When, when_of
from app.review.pairs.apart import Apart, keep_apart_in
from app.review.pairs.things import Thing, things_of
from app.review.running.loads import is_only_listed

ONLY_LISTED: Final = "on the drug list, and nothing says how it is given"
HELD: Final = "its words say that it does not run"
TO_COME: Final = "still to come"
Pairs = tuple[Apart, ...]


@dataclass(frozen=True, slots=True)
class Means:
    """What a plan is made with, besides the patient."""

    catalogue: Catalogue
    vehicles: Vehicles
    ruleset: Ruleset
    book: PairBook
    stock: Stock = NOTHING_TOLD


@dataclass(frozen=True, slots=True)
class Item:
    """One thing in the plan. source: its id among what runs; several doses have one source.

    runs: it is connected now. never: why it is not interrupted; central: why a central lumen.
    must_run: it is neither stopped, put off nor left out for want of a lumen. due_min: when it is
    due.
    """

    id: str
    source: str
    name: str
    of: Infusion
    runs: bool
    never: str = ""
    central: str = ""
    must_run: bool = False
    due_min: int = 0


@dataclass(frozen=True, slots=True)
class Bedside:
    """A patient's problem. not_planned and later: name and why; notes: what was taken.

    told: the problem as the steps are told from it: only what is connected now stays or moves.
    flush_with: for what salt solution spoils, by id. apart: what is kept apart, by source. failed:
    lumens out of use. not_glucose: what is not known to bear 5% dextrose, by id.
    """

    problem: Problem
    told: Problem
    items: tuple[Item, ...]
    access: Access
    apart: Pairs = ()
    not_planned: tuple[tuple[str, str], ...] = ()
    later: tuple[tuple[str, str], ...] = ()
    notes: tuple[str, ...] = ()
    flush_with: Mapping[str, FlushFluid] = field(default_factory=dict)
    failed: frozenset[str] = frozenset()
    not_glucose: frozenset[str] = frozenset()

    def item(self, item_id: str) -> Item:
        """One by its id."""
        return next(one for one in self.items if one.id == item_id)


@dataclass(frozen=True, slots=True)
class _One:
    """One infusion with all that is read of it."""

    thing: Thing
    of: Infusion
    name: str
    when: When


def bedside_of(
    case: Case,
    means: Means,
    *,
    failed: frozenset[str] = frozenset(),
    prefer: Mapping[str, str] | None = None,
) -> Bedside:
    """The problem of a case over the shift from its now.

    failed: lumens that are out of use. prefer: where an earlier plan had what does not run yet.
    """
    ones = tuple(_ones(case, means))
    access = access_of(case.patient, failed)
    apart = _apart(case, means, ones)
    built = [pair for one in ones for pair in _built(one, case, means)]
    infusions = _with_carriers(_sharing([infusion for infusion, _ in built], ones), ones, apart)
    items = tuple(item for _, item in built)
    wished = tuple(_wished(one, prefer or {}) for one in infusions)
    problem = Problem(
        HORIZON_MIN, STEP_MIN, FLUSH_MIN, access.lumens, wished, tuple(apart_by_item(apart, items)),
        MOST_AT_ONCE,
    )  # fmt: skip
    flushes = dict(_flushes(ones, items, means))
    here = {item.id: item.of.lumen for item in items if item.runs}
    told = (replace(one, stays_on=here.get(one.id)) for one in wished)
    return Bedside(
        problem=problem,
        told=replace(problem, infusions=tuple(told)),
        items=items,
        access=access,
        apart=apart,
        not_planned=tuple(_not_planned(ones, case, means)),
        later=tuple(_later(ones, case)),
        notes=(*access.notes, *access.not_used, *_notes(ones, items)),
        flush_with={name: fluid for name, fluid in flushes.items() if fluid},
        failed=failed,
        not_glucose=frozenset(name for name, fluid in flushes.items() if fluid is None),
    )


def _apart(case: Case, means: Means, ones: Iterable[_One]) -> Pairs:
    """What is known of each two, and what a surge of one of them forbids."""
    known = keep_apart_in(case, means.book)
    timed = ((one.thing.id, one.of, one.when.pieces[0].duration_min) for one in ones
             if one.when.pieces)  # fmt: skip
    return (*known, *surges(timed, known))


def _not_planned(ones: Iterable[_One], case: Case, means: Means) -> Iterator[tuple[str, str]]:
    yield from ((opening(one.name), one.when.why_not) for one in ones if one.when.why_not)
    yield from ((opening(order.called), HELD) for order in case.not_given)
    for vehicle in means.vehicles:
        if is_only_listed(vehicle, case):
            yield opening(vehicle.key.replace("_", " ")), ONLY_LISTED


def _later(ones: Iterable[_One], case: Case) -> Iterator[tuple[str, str]]:
    yield from ((opening(one.name), one.when.later) for one in ones if one.when.later)
    yield from ((opening(o.name), TO_COME) for o in case.set_aside if o.stands == "later")


def _ones(case: Case, means: Means) -> Iterator[_One]:
    running = infusions_of(case)
    names = names_of(running)
    for thing, infusion, name in zip(things_of(case), running, names, strict=True):
        yield _One(thing, infusion, name, when_of(infusion, case, means.vehicles))


def _built(one: _One, case: Case, means: Means) -> Iterator[tuple[model.Infusion, Item]]:
    pieces, pause = one.when.pieces, pause_of(one.of, case)
    central = why_central(one.of, case, means.ruleset) if pieces else ""
    for number, piece in enumerate(pieces, 1):
        several = len(pieces) > 1
        id_ = f"{one.thing.id} #{number}" if several else one.thing.id
        word = "unit" if isinstance(one.of, CoInfusion) and is_blood(one.of) else "dose"
        name = f"{one.name}, {word} {number}" if several else one.name
        never = pause.why if piece.duration_min is None else ""
        item = Item(
            id_, one.thing.id, name, one.of, one.when.runs, never, central, pause.must_run,
            piece.due_min,
        )  # fmt: skip
        yield _infusion(item, piece, pause.most_min, several=several), item


def _infusion(item: Item, piece: Piece, most_min: int, *, several: bool) -> model.Infusion:
    blood = isinstance(item.of, CoInfusion) and is_blood(item.of)
    kind: model.Kind = "intermittent"
    if piece.duration_min is None:
        kind = "continuous"
    elif blood:
        kind = "blood"
    return model.Infusion(
        item.id, item.name, kind, piece.duration_min, piece.earliest_min, piece.latest_end_min,
        may_pause=kind == "continuous" and most_min > 0,
        max_pause_min=most_min if kind == "continuous" and most_min else None,
        exclusive=blood,
        needs_central=bool(item.central),
        role=role_of(item.of),
        stays_on=item.of.lumen,
        order_id=item.source if several else None,
    )  # fmt: skip


def _sharing(infusions: list[model.Infusion], ones: Iterable[_One]) -> tuple[model.Infusion, ...]:
    """Blood with what it may run beside: plain 0.9% sodium chloride, by name."""
    plain = frozenset(one.thing.id for one in ones if is_plain_saline(one.of))
    return tuple(
        replace(one, may_share_with_exclusive=plain) if one.exclusive else one for one in infusions
    )


def is_plain_saline(infusion: Infusion) -> bool:
    """0.9% sodium chloride with nothing in it."""
    return isinstance(infusion, Order) and (
        infusion.fluid is not None and infusion.fluid.id == SALINE.id and not infusion.additives
    )


def _with_carriers(
    infusions: tuple[model.Infusion, ...], ones: Iterable[_One], apart: Pairs
) -> tuple[model.Infusion, ...]:
    """A drug that runs all the time stays with the carrier recorded on its lumen."""
    carriers = {
        one.of.lumen: one.thing.id
        for one in ones
        if isinstance(one.of, Order) and one.of.purpose == "carrier" and one.of.lumen
    }
    running = {one.id for one in infusions if one.continuous}
    told = {frozenset((pair.a_id, pair.b_id)) for pair in apart}

    def carried(one: model.Infusion) -> model.Infusion:
        carrier = carriers.get(one.stays_on or "")
        fits = carrier in running and carrier != one.id and one.continuous
        if carrier is None or not fits or frozenset((carrier, one.id)) in told:
            return one
        return replace(one, beside=carrier)

    return tuple(map(carried, infusions))


def _wished(one: model.Infusion, prefer: Mapping[str, str]) -> model.Infusion:
    return replace(one, stays_on=one.stays_on or prefer.get(one.id))


def apart_by_item(apart: Iterable[Apart], items: tuple[Item, ...]) -> Iterator[KeepApart]:
    """Each pair for every dose of the two."""
    of: dict[str, list[str]] = {}
    for item in items:
        of.setdefault(item.source, []).append(item.id)
    for pair in apart:
        for one in of.get(pair.a_id, ()):
            for other in of.get(pair.b_id, ()):
                yield KeepApart((one, other), pair.scope, pair.why)


def _notes(ones: Iterable[_One], items: tuple[Item, ...]) -> Iterator[str]:
    for one in ones:
        yield from (f"{opening(one.name)}: {note}." for note in one.when.notes)
        if one.when.pieces and not one.thing.is_understood:
            yield f"{opening(one.name)} is not understood: it is kept apart from everything."
        if len(one.thing.meant) > 1:
            yield f"{opening(one.name)} may mean several fluids: the strictest is taken."
    for item in items:
        if item.runs and item.of.lumen is None:
            yield f"{opening(item.name)}: which lumen it runs on is not recorded."
        if item.central:
            yield f"{opening(item.name)} is planned by a central lumen: {item.central}"


def _flushes(
    ones: Iterable[_One], items: tuple[Item, ...], means: Means
) -> Iterator[tuple[str, FlushFluid | None]]:
    """Of each item that does not bear either flush, by id: the one it needs; None for salt."""
    for one in ones:
        known = one.thing, means.book, means.catalogue
        mine = [item.id for item in items if item.source == one.thing.id]
        if salt_spoils(*known):
            yield from ((item_id, GLUCOSE) for item_id in mine)
        elif not bears_glucose(*known):
            yield from ((item_id, None) for item_id in mine)
