"""Rows of a rehearsal: an order with what could stand in, each with what a review finds anew."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from app.catalogue.fluid import ML_PER_L, Fluid
from app.catalogue.stock.counts import NOTHING_COUNTED, Counts
from app.cautions.rule import LEVELS
from app.patient.order import AdditiveDose
from app.review.shortage.affected import Affected, AffectedDrug
from app.review.shortage.changes import Change, Changes
from app.review.shortage.offers import Tried
from app.review.workflow import Bedside
from app.web.advice.order_words import order_words
from app.web.fluids.shelf import Shelf
from app.web.shortage.words import bags_text, differs_text, hung_text, litres_text
from app.web.show import amount, capital, clock, count, name_text, number, person_age

NEEDS_NAMED: Final = 5
CRITICAL: Final = LEVELS[0]
NOBODY_TOLD: Final = "nobody has told where it is"


@dataclass(frozen=True, slots=True)
class ChangeRow:
    """One finding that comes or goes. was: its level before, empty where it was not there."""

    rule_id: str
    level: str
    words: str
    was: str


@dataclass(frozen=True, slots=True)
class OfferRow:
    """One fluid in the place of another. how: bags, and what is left out of them; place: where
    the fluid is. missing: the checks that could not run with it, in words, empty for none.
    """

    fluid_id: str
    name: str
    how: str
    away: str
    differs: str
    place: str
    new: tuple[ChangeRow, ...]
    gone: tuple[ChangeRow, ...]
    milder: tuple[ChangeRow, ...]
    missing: str


@dataclass(frozen=True, slots=True)
class OrderRow:
    """One order that is affected.

    takes: what it takes in a day; ends: whether another bag follows, or it should be in. already:
    what is critical as things are, and no switch mends by itself. asks: savings to ask
    about. critical: fluids that bring something new that is critical. refused: fluids not proposed
    for their bags. none: why nothing is offered, empty where something is.
    """

    bed: str
    who: str
    href: str
    words: str
    takes: str
    ends: str
    already: tuple[ChangeRow, ...]
    asks: tuple[str, ...]
    offers: tuple[OfferRow, ...]
    critical: tuple[OfferRow, ...]
    refused: tuple[tuple[str, str], ...]
    none: str

    @property
    def first(self) -> OfferRow | None:
        """What the order turns to."""
        return self.offers[0] if self.offers else None


ASKS: Final[Mapping[str, str]] = {
    "oral": "recorded as drinking: by mouth instead?",
    "review": "goes on with no review time, or it is due: still needed?",
    "line": "runs slowly: cap and flush instead, unless it carries a drug?",
}
EVERY_ONE: Final = (
    "Every fluid that could stand in brings a critical caution here: pharmacist and prescriber "
    "decide. Keep what is left for this order."
)
NO_OTHER: Final = "No other fluid of the same sort can be had."


def order_row(
    one: Affected[str], bedside: Bedside, shelf: Shelf, counts: Counts = NOTHING_COUNTED
) -> OrderRow:
    """One affected order."""
    order, case, now = one.order, one.review.case, one.review.case.now
    draws = [draw for draw in one.draws if draw.ml_day is not None]
    takes = [f"{litres_text(d.ml_day or 0)} of {d.fluid.name} a day" for d in draws]
    return OrderRow(
        bed=bedside.bed,
        who=f"{bedside.initials}, {person_age(case.patient.age_years)}",
        href=f"/patients/{bedside.patient_id}",
        words=order_words(order, now),
        takes="; ".join(takes) or "how much cannot be told: no rate or volume is written",
        ends=_ends(one, now),
        already=tuple(change_row(Change(found)) for found in one.review.all_found
                      if found.finding.level == CRITICAL),
        asks=tuple(ASKS[key] for key in one.measures if key in ASKS),
        offers=tuple(_offer(tried, one, (shelf, counts)) for tried in one.offers.offered),
        critical=tuple(_offer(tried, one, (shelf, counts)) for tried in one.offers.critical),
        refused=tuple((fluid.name, why) for fluid, why in one.offers.refused),
        none=_none(one),
    )  # fmt: skip


def _none(one: Affected[str]) -> str:
    if one.offers.offered or one.standing != "affected":
        return ""
    if one.offers.why_none:
        return f"Nothing is sought: {one.offers.why_none}."
    return EVERY_ONE if one.offers.every_one_is_critical else NO_OTHER


def _ends(one: Affected[str], now: datetime) -> str:
    """What the order's own words leave open of its end."""
    if one.ends is not None and one.standing == "over":
        return f"in at {clock(one.ends, now)}"
    if one.ends is not None and one.ends <= now:
        return "its bag should be in by now"
    return "another bag follows this one" if one.renewed else ""


def _offer(tried: Tried, one: Affected[str], where: tuple[Shelf, Counts]) -> OfferRow:
    candidate = tried.candidate
    return OfferRow(
        fluid_id=tried.fluid.id,
        name=tried.fluid.name,
        how=_how(tried, one),
        away=number(candidate.away.value),
        differs=differs_text(candidate.away),
        place=_place(tried.fluid, *where),
        new=_changes(tried.changes.new),
        gone=_changes(tried.changes.gone),
        milder=_changes(tried.changes.milder),
        missing=missing_text(tried.changes),
    )


def _place(fluid: Fluid, shelf: Shelf, counts: Counts) -> str:
    """Where a fluid is, as told, or else as counted."""
    told, litres = shelf.view(fluid.id).words, counts.litres(fluid)
    if told or litres is None:
        return told or NOBODY_TOLD
    return f"{litres_text(litres * ML_PER_L)} counted here"


def _how(tried: Tried, one: Affected[str]) -> str:
    candidate = tried.candidate
    parts = [hung_text(candidate.bags, one.order.volume_ml)]
    if candidate.concentrate is not None:
        parts.append(f"its additive drawn up from {candidate.concentrate.name}")
    if candidate.left_out:
        ordered = _added(candidate.left_out)
        same = f"holds the {ordered} as made"
        parts.append(same if not candidate.away.terms else f"premixed, not with {ordered}")
    elif candidate.order.additives and candidate.concentrate is None:
        parts.append(f"with {_added(candidate.order.additives)} put in as ordered")
    return ", ".join(parts)


def _added(doses: Iterable[AdditiveDose]) -> str:
    return " and ".join(dose.as_written or dose.substance for dose in doses)


def _changes(found: Iterable[Change]) -> tuple[ChangeRow, ...]:
    return tuple(map(change_row, found))


def change_row(change: Change) -> ChangeRow:
    """One finding as a row."""
    found = change.found
    return ChangeRow(found.rule.id, found.finding.level, found.finding.summary, change.was)


def missing_text(changes: Changes) -> str:
    """ "6 checks could not run: weight, potassium"."""
    if not changes.not_assessed:
        return ""
    names = [name_text(need) for need in changes.needs]
    more = ["…"] if len(names) > NEEDS_NAMED else []
    checks = count(len(changes.not_assessed), "check")
    return f"{checks} could not run, not known: {', '.join((*names[:NEEDS_NAMED], *more))}"


@dataclass(frozen=True, slots=True)
class DrugRow:
    """One drug whose carrier is lost."""

    bed: str
    who: str
    href: str
    words: str
    takes: str


def drug_row(one: AffectedDrug[str], bedside: Bedside) -> DrugRow:
    """One drug, in what it comes, and how much of that in a day."""
    draw = one.draw
    usual = " (usual, not written)" if draw.is_usual else ""
    takes = "how much is not written"
    if draw.ml_day is not None:
        takes = f"{amount(draw.ml_day, 'mL', 0)} a day"
    if draw.ml_day is not None and draw.size_ml and draw.bags_day:
        takes = f"{takes}: {bags_text({draw.size_ml: draw.bags_day})}"
    age = person_age(bedside.review.case.patient.age_years)
    return DrugRow(
        bed=bedside.bed,
        who=f"{bedside.initials}, {age}",
        href=f"/patients/{bedside.patient_id}",
        words=capital(draw.source),
        takes=f"in {draw.fluid.name}{usual}, {takes}",
    )
