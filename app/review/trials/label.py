"""The label beside a prediction: how far off it was in groups like this, in steps that are said."""

from collections.abc import Iterable, Sequence
from typing import Final

from app.review.trials.errors import NO_TRIAL, QUANTITIES, Error, error_of
from app.review.trials.fluids import FluidKind, band_of, band_text
from app.review.trials.score import Point

MINUTES_PER_HOUR: Final = 60.0
# A moment this much later than the last one measured is as good as measured (no source).
LATER_BY: Final = 1.25
# So many groups are told in words, the rest by their number.
MOST_TOLD: Final = 2


def label_of(
    points: Iterable[Point],
    quantity: str,
    kind: FluidKind | None,
    dose: float,
    minutes: float | None = None,
) -> str:
    """How far off it was in groups given such a fluid and dose (in the unit of the kind).

    In steps: groups at such a dose; else at the nearest dose tried; else, each in turn, what is
    from memory or second hand. "no trial like this" where none of these is. minutes: how far ahead
    is looked; where nobody measured so late, that is said.
    """
    if kind is None:
        return NO_TRIAL
    like = [p for p in points if (p.quantity, p.kind) == (quantity, kind)]
    band = band_of(kind, dose)
    for seen in (True, False):
        told = [p for p in like if p.seen is seen]
        if told:
            near = _nearest(told, band)
            parts = [_aside(kind, band, near), "" if seen else "From memory alone:"]
            parts += [_found(near), *_limits_of(near, minutes)]
            return " ".join(filter(None, parts))
    return NO_TRIAL


def _nearest(points: Sequence[Point], band: int) -> list[Point]:
    """Those of one band: this one, or the nearest; of two as near the larger dose."""
    found = min({p.band for p in points}, key=lambda other: (abs(other - band), -other))
    return [p for p in points if p.band == found]


def _aside(kind: FluidKind, band: int, near: Sequence[Point]) -> str:
    found = near[0].band
    if found == band:
        return ""
    more = "more" if found > band else "less"
    return f"No trial at this dose; it is known of {more} ({band_text(kind, found)})."


def _found(points: Sequence[Point]) -> str:
    error = error_of(points)
    assert error is not None  # _nearest gives at least one
    _, unit, places = QUANTITIES[points[0].quantity]
    groups = "1 published group" if error.groups == 1 else f"{error.groups} published groups"
    off = f"{_amount(error.off, places)} {unit}".strip()
    average = " on average" if error.points > 1 else ""
    said = f"{average}{_side(error, places)}{_wrong_way(points, places)}"
    return f"In {groups} ({_who(points)}) it was off by {off}{said}; {_measured(points, places)}."


def _who(points: Sequence[Point]) -> str:
    """The first of the groups in words, with what they were given and when it was measured."""
    arms = {p.arm: p for p in sorted(points, key=lambda p: p.minutes)}
    told = [f"{p.population}, {p.fluid}, at {_hours(p.minutes)}" for p in arms.values()]
    first, more = told[:MOST_TOLD], len(told) - MOST_TOLD
    others = [f"{more} more"] if more > 0 else []
    return ", and ".join((*first, *others)).replace(";", ",")


def _wrong_way(points: Sequence[Point], places: int) -> str:
    """That what was measured went the other way than was predicted, where both can be shown."""
    least = 10**-places / 2
    wrong = [
        p for p in points
        if p.measured * p.predicted < 0 and min(abs(p.measured), abs(p.predicted)) >= least
    ]  # fmt: skip
    if not wrong:
        return ""
    times = "" if len(wrong) == len(points) else f" in {len(wrong)} of {len(points)} figures"
    return f", in the wrong direction{times}"


def _measured(points: Sequence[Point], places: int) -> str:
    """How large what was measured was: a change, unless all are differences to another fluid."""
    changes = [p for p in points if not p.against]
    error = error_of(changes or points)
    assert error is not None
    what = "change" if changes else "difference to another fluid"
    return f"the {what} measured was {_amount(error.still, places)}"


def _side(error: Error, places: int) -> str:
    """Whether it was as a rule too high or too low."""
    if not error.one_sided:
        return ""
    return f", as a rule too {'high' if error.bias > 0 else 'low'}"


def _limits_of(points: Sequence[Point], minutes: float | None) -> list[str]:
    """Groups that the model was set with, and a look further ahead than anybody measured."""
    error = error_of(points)
    assert error is not None
    said = []
    if error.fitted:
        who = "All" if error.fitted == error.groups else f"{error.fitted}"
        said.append(f"{'It' if error.groups == 1 else f'{who} of them'} helped to set the model.")
    last = max(point.minutes for point in points)
    if minutes is not None and minutes > last * LATER_BY:
        said.append(f"Nobody measured it later than {_hours(last)}.")
    return said


def _hours(minutes: float) -> str:
    if minutes < MINUTES_PER_HOUR:
        return f"{minutes:.0f} min"
    return f"{minutes / MINUTES_PER_HOUR:.1f}".removesuffix(".0") + " h"


def _amount(value: float, places: int) -> str:
    """A distance; one too small to show is not said to be none."""
    amount = f"{value:.{places}f}"
    return amount if float(amount) else f"under {10**-places:g}"
