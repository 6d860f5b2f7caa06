"""The page of a rehearsal, and the plan on paper."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Final
from urllib.parse import urlencode

from app.catalogue.stock.counts import Counts
from app.review.shortage.distance import FORMULA, WEIGHTS, WHOSE
from app.review.shortage.lasting import DAYS_ASSUME, DAYS_FORMULA
from app.review.shortage.loss import SIZE_MARK, Loss
from app.review.shortage.rehearsal import Rehearsal
from app.review.workflow import Bedside
from app.web.fluids.news import News
from app.web.fluids.shelf import Shelf
from app.web.shortage.form import Form
from app.web.shortage.rows import (
    ChangeRow,
    DrugRow,
    OrderRow,
    change_row,
    drug_row,
    order_row,
)
from app.web.shortage.totals import (
    LostRow,
    SavingRow,
    TurnedRow,
    lost_rows,
    saving_rows,
    turned_rows,
)
from app.web.shortage.words import lost_name, share_text
from app.web.show import capital, clock, count, number

PAGE: Final = "/shortage"
PLAN: Final = "/shortage/plan"
FILE: Final = "/shortage/plan.csv"
WHOLE_PERCENT: Final = 100


@dataclass(frozen=True, slots=True)
class WeightRow:
    """One weight of the distance."""

    name: str
    unit: str
    weight: str


@dataclass(frozen=True, slots=True)
class TogetherRow:
    """What is new only when every order of one patient switches at once."""

    bed: str
    new: tuple[ChangeRow, ...]


@dataclass(frozen=True, slots=True)
class Result:
    """A rehearsal in words. orders, over, unclear: by how they stand. plan, file: where the plan is
    on paper and as CSV. formula: how days are reckoned, and what is assumed.
    """

    title: str
    share: str
    starts: str
    days: int
    lost: tuple[LostRow, ...]
    orders: tuple[OrderRow, ...]
    over: tuple[OrderRow, ...]
    unclear: tuple[OrderRow, ...]
    drugs: tuple[DrugRow, ...]
    turned: tuple[TurnedRow, ...]
    savings: tuple[SavingRow, ...]
    together: tuple[TogetherRow, ...]
    summary: str
    plan: str
    file: str
    asked: tuple[tuple[str, str], ...]
    formula: tuple[str, str] = (DAYS_FORMULA, DAYS_ASSUME)


WEIGHT_ROWS: Final = tuple(WeightRow(w.name, w.unit, number(w.weight)) for w in WEIGHTS)


@dataclass(frozen=True, slots=True)
class ShortagePage:
    """The page. result: None until something is picked. sees: whoever asks may see patients; keeps:
    they may keep a plan. note, note_fault: of a plan that was not accepted.
    """

    form: Form
    result: Result | None
    news: News
    moment: str
    version: str
    by: str = ""
    sees: bool = False
    keeps: bool = False
    weights: tuple[WeightRow, ...] = WEIGHT_ROWS
    distance: tuple[str, str] = (FORMULA, WHOSE)
    note_fault: str = ""
    note: str = ""


def address(loss: Loss, now: datetime, page: str = PAGE) -> str:
    """Where this rehearsal is: ids and figures, never a word of a patient."""
    return f"{page}?{urlencode(pairs(loss, now))}"


def pairs(loss: Loss, now: datetime) -> tuple[tuple[str, str], ...]:
    """The fields of the address. What begins now says no moment, which would soon be past."""
    starts = (("from", f"{loss.starts:%Y-%m-%dT%H:%M}"),) if loss.starts > now else ()
    flags = (("shelf", loss.shelf_too), ("smaller", loss.smaller), ("here", loss.told_only))
    return (
        *(("lost", key) for key in loss.keys),
        ("share", number(loss.share * WHOLE_PERCENT, 2)),
        *starts,
        ("days", str(loss.days)),
        *((name, "1") for name, on in flags if on),
    )


def result_of(
    rehearsal: Rehearsal[str], beds: Mapping[str, Bedside], shelf: Shelf, counts: Counts
) -> Result:
    """All that is to be said of a rehearsal."""
    loss, now = rehearsal.loss, shelf.now

    def rows(standing: str) -> tuple[OrderRow, ...]:
        found = rehearsal.standing(standing)
        return tuple(order_row(one, beds[one.key], shelf, counts) for one in found)

    return Result(
        title=title_of(rehearsal),
        share=share_text(loss),
        starts=clock(loss.starts, now),
        days=loss.days,
        lost=lost_rows(rehearsal, counts, now),
        orders=rows("affected"),
        over=rows("over"),
        unclear=rows("may be"),
        drugs=tuple(drug_row(one, beds[one.key]) for one in rehearsal.drugs),
        turned=turned_rows(rehearsal.turned, loss, counts, now),
        savings=saving_rows(rehearsal),
        together=tuple(
            TogetherRow(beds[one.key].bed, tuple(map(change_row, one.new)))
            for one in rehearsal.together
        ),
        summary=summary_of(rehearsal),
        plan=address(loss, now, PLAN),
        file=address(loss, now, FILE),
        asked=pairs(loss, now),
    )


def without_patients(result: Result) -> Result:
    """The same for whoever may see no patients: sums, and no order or drug of anybody."""
    return replace(result, orders=(), over=(), unclear=(), drugs=(), together=())


def title_of(rehearsal: Rehearsal[str]) -> str:
    """What is lost: "0.9% sodium chloride; 1,000 mL bags of lactated Ringer's (US)"."""
    fluids = {one.fluid.id: one.fluid for one in rehearsal.lasting}
    keys = rehearsal.loss.keys
    return "; ".join(lost_name(key, fluids[key.partition(SIZE_MARK)[0]]) for key in keys)


def summary_of(rehearsal: Rehearsal[str]) -> str:
    """How many orders and drugs it concerns, and for how many there is something to hang."""
    affected = rehearsal.standing("affected")
    if not affected and not rehearsal.drugs:
        return "No order and no drug of this unit draws on what is lost."
    found = sum(one.offers.first is not None for one in affected)
    critical = sum(one.offers.every_one_is_critical for one in affected)
    parts = [f"{capital(count(len(affected), 'order'))} affected, {found} with a substitute"]
    if critical:
        parts.append(f"for {critical} every substitute brings a critical caution")
    if rehearsal.drugs:
        parts.append(f"{count(len(rehearsal.drugs), 'drug')} in a carrier that is lost")
    return f"{'; '.join(parts)}."
