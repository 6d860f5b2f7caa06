"""The band about a prediction: people drawn from the model's parameters, and what sets people
apart that no parameter tells of.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from app.physiology.course.loads import Load, Loss
from app.physiology.course.parameters import (
    OF_VOLUME,
    SPREADS,
    STIRRED,
    Values,
    apart,
    responses,
)

INTERVAL: Final = (
    "10th to 90th percentile of people drawn from the ranges of the model's parameters, with the "
    "spread between people and between two samples that such loads have shown"
)
LOW, HIGH = 10, 90


@dataclass(frozen=True, slots=True)
class Band:
    """The middle person's values, and the low and high of the range, one for each time."""

    mid: tuple[float, ...]
    low: tuple[float, ...]
    high: tuple[float, ...]


def bands_of(seen: Mapping[str, Values], stirred: Values) -> dict[str, Band]:
    """A band for each series. seen: of each a row for every time; stirred: what moved by then."""
    bands: dict[str, Band] = {}
    people = seen["ph"].shape[1]
    shares, others = responses(people, len(seen)), apart(people, len(seen))
    for (name, rows), share, other in zip(seen.items(), shares, others, strict=True):
        # Sizes differ between people from the start; what is told is how theirs change.
        start = rows[0, 0]
        own = start + (rows - rows[0]) * share
        mid = own[:, 0]
        own = own + spread_sd(name, mid, stirred)[:, None] * other
        low, high = np.percentile(own, (LOW, HIGH), axis=1)
        low, high = np.minimum(low, mid), np.maximum(high, mid)
        if min(start, mid.min()) >= 0:
            low = np.maximum(low, 0.0)
        bands[name] = Band(*(tuple(map(float, line)) for line in (mid, low, high)))
    return bands


def spread_sd(name: str, mid: Values, stirred: Values) -> Values:
    """Standard deviation between people at each time that no parameter tells of: none while
    nothing has moved, more with what runs in and out and with the change itself, up to its most.
    """
    spread = SPREADS[name]
    scale = mid[0] if name in OF_VOLUME else 1.0
    changed = np.abs(mid - mid[0]) / (scale * spread.change)
    return np.asarray(scale * spread.sd * (1 - np.exp(-stirred / STIRRED - changed)))


def stirred_by(
    loads: Sequence[Load], losses: Sequence[Loss], times_min: Sequence[float], ecf_l: float
) -> Values:
    """What has run in and out at each time, as a share of the fluid outside cells."""
    moving: tuple[Load | Loss, ...] = (*loads, *losses)
    moved = [sum(one.litres_between(0.0, at) for one in moving) for at in times_min]
    return np.array(moved) / ecf_l
