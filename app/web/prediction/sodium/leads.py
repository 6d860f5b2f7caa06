"""What is said first of a bag and sodium: the worse of what the curve, its ways and the pencil say.

No sentence says that a limit is kept while a rule warns, the formula or a way of the kidneys passes
it, or sodium moves the other way.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta
from typing import Final

from app.cautions.rule import Level
from app.web.pictures.curves import Curve
from app.web.prediction.sodium.limits import READS_AS_MORE, DayLimits
from app.web.prediction.sodium.reach import Reach, passes_h, reach_of
from app.web.prediction.sodium.ways import Look, Way
from app.web.show import duration, number, signed

# The curve and the formula further apart than this disagree, mmol/L (common practice, no source).
DISAGREE_MMOL_L: Final = 3.0
# What moves by less than this does not visibly move, mmol/L.
MOVES_MMOL_L: Final = 0.5
# Under this a fall is spoken of before any limit of a rise, mmol/L.
LOW_MMOL_L: Final = 135.0
BASELINE: Final = "sodium_baseline_mmol_l"
DO_NOT: Final = "Do not give it for a low sodium."
UNTIL: Final = "until a sodium says otherwise"


@dataclass(frozen=True, slots=True)
class Lead:
    """What is said of one bag. level: of what stands beside the findings; empty for nothing there.

    hours: to where a limit is passed, the soonest; None where none is. near: a sample is due early.
    falls: it lowers a sodium whose rise has limits.
    """

    mark: str
    text: str = ""
    level: Level | None = None
    hours: float | None = None
    past: str = ""
    near: bool = False
    falls: bool = False


def lead_of(look: Look, day: DayLimits, *, warned: bool) -> Lead:
    """The sentence of one bag. warned: a rule on sodium speaks of it."""
    for found in (
        _other_way(look, day),
        _passed(look, day),
        _passed_one_way(look, day),
        _passed_by_hand(look, day),
        _apart(look, day),
    ):
        if found is not None:
            return found
    if not day.names:
        return Lead(look.mark)
    return _warned(look, day) if warned else _within(look, day)


def _warned(look: Look, day: DayLimits) -> Lead:
    """No limit is passed by any figure here, and a rule warns."""
    change, by_hand = signed(_furthest(look.drawn, day.sign), 0), signed(look.by_hand_mmol_l, 0)
    text = (
        f"{_sodium(look)}: {change} in 24 h by the curve, {by_hand} by hand. The rules warn all "
        "the same: go by them."
    )
    return Lead(look.mark, _with_ends(text, look), near=True)


def _within(look: Look, day: DayLimits) -> Lead:
    of = f"with {look.mark} alone" if look.mark else "by the bag alone"
    text = f"Sodium {of}: within {day.change_words(day.names[0])}."
    return Lead(look.mark, _with_ends(text, look))


def _with_ends(text: str, look: Look) -> str:
    return " ".join(part for part in (text, both_ends(look)) if part)


def _sodium(look: Look) -> str:
    return f"Sodium with {look.mark}" if look.mark else "Sodium"


def _furthest(curve: Curve, sign: int) -> float:
    """The furthest move of the middle in a direction; the move at the end where there is none."""
    most = max(curve.mid, key=lambda value: sign * value)
    moved = most - curve.mid[0]
    return moved if sign * moved > 0 else curve.mid[-1] - curve.mid[0]


def _other_way(look: Look, day: DayLimits) -> Lead | None:
    """Sodium that every way moves against the direction of the limits, or a usual one that falls
    where water may be kept.
    """
    curves = (look.drawn, *(way.curve for way in look.ways))
    moves = [day.sign * _furthest(curve, day.sign) for curve in curves]
    against = [day.sign * (curve.mid[-1] - curve.mid[0]) for curve in curves]
    if max(moves) >= MOVES_MMOL_L or min(against) > -MOVES_MMOL_L:
        return None
    if day.sign * look.by_hand_mmol_l > 0 or not (day.names or look.ways):
        return None
    if day.sign < 0:
        text = f"{_sodium(look)} rises from {_from_to(look)} by 24 h: it does not come down."
        return Lead(look.mark, text, level="warning", near=True)
    return _falls(look, day)


def _falls(look: Look, day: DayLimits) -> Lead:
    lowest = min(curve.mid[-1] for curve in (look.drawn, *(way.curve for way in look.ways)))
    baseline = day.limits[BASELINE]
    is_low = day.now_mmol_l < baseline
    said = [f"{_sodium(look)} falls from {_from_to(look)} by 24 h{_ends(look)}."]
    by_hand = day.now_mmol_l + look.by_hand_mmol_l
    if by_hand < lowest - DISAGREE_MMOL_L:
        said.append(f"By hand {number(by_hand, 0)}: take that {UNTIL}.")
        lowest = by_hand
    if is_low:
        said.append(DO_NOT)
    level: Level | None = "critical" if is_low else "warning" if lowest < baseline else None
    return Lead(look.mark, " ".join(said), level, near=is_low or lowest < LOW_MMOL_L, falls=True)


def _from_to(look: Look) -> str:
    first = look.ways[0].curve if look.ways else look.drawn
    return f"{number(look.drawn.mid[0], 0)} to {number(first.mid[-1], 0)}"


def _ends(look: Look) -> str:
    """In which case it is so, and where it would be in the other."""
    if not look.ways:
        return ""
    first, last = look.ways[0], look.ways[-1]
    return f" {first.said}, to {number(last.curve.mid[-1], 0)} {last.said}"


def both_ends(look: Look) -> str:
    """Where sodium would be by both ways: "By 24 h: 123 if …, 132 if …."."""
    if not look.ways:
        return ""
    said = ", ".join(f"{number(way.curve.mid[-1], 0)} {way.said}" for way in look.ways)
    return f"By 24 h: {said}."


def _passed(look: Look, day: DayLimits) -> Lead | None:
    """The curve as drawn passes a limit: the middle, or the end of its band."""
    reach = reach_of(look.drawn, day)
    if not reach.name:
        return None
    limit, when = _limit_words(reach, day), _when(reach.hours)
    said = f"{_sodium(look)} is likely to pass {limit} {when}."
    if not reach.likely:
        said = f"{_sodium(look)} may pass {limit} {when}: the end of its band does."
    soonest = min([reach.hours, *(hours for _, _, hours in _passing_ways(look, day))])
    level: Level = "critical" if reach.likely and reach.name == day.names[-1] else "warning"
    return Lead(look.mark, _with_ends(said, look), level, soonest, reach.name, near=True)


def _passing_ways(look: Look, day: DayLimits) -> Iterator[tuple[str, Way, float]]:
    """Limits that a way passes, the highest of each, and when."""
    for way in look.ways:
        for name in reversed(day.names):
            hours = passes_h(way.curve.hours, way.curve.mid, day, name)
            if hours <= way.curve.hours[-1]:
                yield name, way, hours
                break


def _passed_one_way(look: Look, day: DayLimits) -> Lead | None:
    """The curve as drawn keeps the limits, but one of the ways does not."""
    passing = sorted(_passing_ways(look, day), key=lambda one: one[2])
    if not passing:
        return None
    name, way, hours = passing[0]
    limit = _limit_words(Reach(look.mark, name, hours), day)
    said = f"{_sodium(look)} is likely to pass {limit} {_when(hours)} {_case(way)}."
    return Lead(look.mark, _with_ends(said, look), "warning", hours, name, near=True)


def _case(way: Way) -> str:
    """In which case, out of its pair: "if kidneys keep the water", "if urine is dilute"."""
    return way.said.replace("if they keep it", "if kidneys keep the water").replace(
        "if it is dilute", "if urine is dilute"
    )


def _passed_by_hand(look: Look, day: DayLimits) -> Lead | None:
    """Only the formula passes a limit: the two disagree, and the worse is taken."""
    after = day.now_mmol_l + look.by_hand_mmol_l
    for name in reversed(day.names):
        most = day.most_at(look.by_hand_h, name)
        if day.sign * (after - most) >= READS_AS_MORE:
            way = "rise" if day.sign > 0 else "fall"
            text = (
                f"{_two_figures(look, day)} Take it as a {way} of "
                f"{number(abs(look.by_hand_mmol_l), 0)}, past {day.change_words(name)} "
                f"({number(most)}), {UNTIL}."
            )
            return Lead(look.mark, text, "warning", look.by_hand_h, name, near=True)
    return None


def _two_figures(look: Look, day: DayLimits) -> str:
    by = f"{_sodium(look)}: by" if look.mark else "Sodium by"
    by_hand, curve = signed(look.by_hand_mmol_l, 0), signed(_furthest(look.drawn, day.sign), 0)
    return f"{by} hand {by_hand}, by the curve {curve}: they disagree."


def _apart(look: Look, day: DayLimits) -> Lead | None:
    """Neither passes a limit, but they are far apart."""
    gap = abs(look.by_hand_mmol_l - _furthest(look.drawn, day.sign))
    if gap < DISAGREE_MMOL_L or not (day.names or look.ways):
        return None
    text = f"{_two_figures(look, day)} Take the larger {UNTIL}."
    return Lead(look.mark, _with_ends(text, look), near=True)


def _limit_words(reach: Reach, day: DayLimits) -> str:
    return f"{day.change_words(reach.name)} ({number(day.most_at(reach.hours, reach.name))})"


def _when(hours: float) -> str:
    return f"at about {duration(timedelta(hours=hours))}" if hours else "now"
