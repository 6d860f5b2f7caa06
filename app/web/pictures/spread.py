"""Labels beside a picture, moved as little as possible so that none covers another."""

from collections.abc import Sequence


def spread(wanted: Sequence[float], step: float, low: float, high: float) -> tuple[float, ...]:
    """Positions near the wanted ones, in order, at least `step` apart, within low to high.

    wanted: rising positions, in any length unit. The squared distance moved is least (isotonic
    regression). Raises ValueError when the labels cannot fit.
    """
    room = high - low - step * (len(wanted) - 1)
    if room < 0:
        raise ValueError(f"{len(wanted)} labels, {step:g} apart, do not fit in {high - low:g}")
    pools: list[tuple[float, int]] = []
    for place, position in enumerate(wanted):
        pools.append((position - place * step, 1))
        while len(pools) > 1 and pools[-2][0] > pools[-1][0]:
            (above, n_above), (below, n_below) = pools[-2:]
            count = n_above + n_below
            pools[-2:] = [((above * n_above + below * n_below) / count, count)]
    slack = [mean for mean, count in pools for _ in range(count)]
    return tuple(min(max(s, low), low + room) + i * step for i, s in enumerate(slack))
