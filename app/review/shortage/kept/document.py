"""A rehearsal as a document that can be kept: ids and figures, no word of a patient. Pure."""

import math
from collections.abc import Mapping
from datetime import datetime
from typing import Any, Final

from app.review.shortage.affected import Affected
from app.review.shortage.changes import Changes
from app.review.shortage.lasting import Lasting, Turned
from app.review.shortage.rehearsal import Rehearsal

SCHEMA: Final = "ringside-shortage-plan-1"
Document = dict[str, Any]


def document_of(rehearsal: Rehearsal[str], *, at: datetime, version: str) -> Document:
    """The plan. Its keys are patients' ids. at: the unit's moment; version: of the knowledge."""
    loss = rehearsal.loss
    return {
        "schema": SCHEMA,
        "at": at.isoformat(),
        "version": version,
        "lost": list(loss.keys),
        "share": loss.share,
        "from": loss.starts.isoformat(),
        "shelf_too": loss.shelf_too,
        "smaller": loss.smaller,
        "told_only": loss.told_only,
        "days": loss.days,
        "lasting": [_lasting(one) for one in rehearsal.lasting],
        "orders": [_order(one) for one in rehearsal.orders],
        "drugs": [[one.key, one.draw.fluid.id, one.draw.ml_day] for one in rehearsal.drugs],
        "turned": [_turned(one) for one in rehearsal.turned],
    }


def _lasting(one: Lasting) -> Document:
    return {
        "fluid": one.fluid.id,
        "ml_day": one.use.ml_day,
        "bags_day": _bags(one.use.bags_day),
        "counted_l": one.counted_l,
        "days": _finite(one.days),
    }


def _turned(one: Turned) -> Document:
    return {
        "fluid": one.fluid.id,
        "orders": one.orders,
        "ml_day": one.extra_ml_day,
        "bags_day": _bags(one.bags_day),
        "counted_l": one.counted_l,
        "days": _finite(one.days),
    }


def _order(one: Affected[str]) -> Document:
    first = one.offers.first
    changes = first.changes if first else Changes()
    return {
        "patient": one.key,
        "order": one.order.id,
        "standing": one.standing,
        "fluid": one.order.fluid.id if one.order.fluid else "",
        "to": first.fluid.id if first else "",
        "every_one_critical": one.offers.every_one_is_critical,
        "new": [[change.found.rule.id, change.level] for change in changes.new],
        "gone": [[change.found.rule.id, change.level] for change in changes.gone],
        "not_assessed": sorted({lack.rule_id for lack in changes.not_assessed}),
    }


def _bags(bags: Mapping[float, float]) -> Document:
    return {f"{size:g}": each for size, each in bags.items()}


def _finite(days: float | None) -> float | None:
    """JSON has no endless number: what is not used has ml_day 0."""
    return None if days is None or math.isinf(days) else days
