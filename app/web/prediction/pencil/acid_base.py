"""Acid and base by hand: the bag's strong ion difference, and plasma mixed with it."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

from app.physiology.acid_base import Plasma, bicarbonate_of, solve_ph
from app.physiology.acid_base_ways import Direction, Way, by_strong_ions, direction_of
from app.physiology.course.body import Subject
from app.web.prediction.pencil.rows import HandRow, Lines, cells_of, change_text, said_of
from app.web.prediction.pencil.tried import Tried
from app.web.show import amount, number

UNIT: Final = "mmol/L"
BICARBONATE: Final = "bicarbonate_mmol_l"
PH_PLACES: Final = 2
WAYS: Final[Mapping[Direction, str]] = {
    "up": "up", "down": "down", "hardly": "hardly either way",
}  # fmt: skip
NOT_ON_LABEL: Final = "not computed: no chloride on the label"


def acid_base_rows(tried: Sequence[Tried]) -> Iterator[HandRow]:
    """Which way the bag pushes, and how far when mixed in by volume."""
    bicarbonate = amount(tried[0].subject.bicarbonate_mmol_l, UNIT)
    yield HandRow(
        "strong-ion-difference",
        f"Strong ion difference of the bag, beside bicarbonate of {bicarbonate}",
        cells_of(tried, _difference, _curve),
        f"A direction, once the bag's buffers are used and at constant carbon dioxide. "
        f"{said_of(tried, _direction)}",
    )
    yield HandRow(
        "weak-acids",
        "Bicarbonate and pH with the bag mixed in by volume",
        cells_of(tried, _mixed, _curve_with_ph),
        "The formula mixes the bag into all fluid outside cells and leaves it there, its buffers "
        "used at once; on the curve buffers take time, cells buffer, and salt is lost.",
    )


def _curve(one: Tried, moment: float) -> Lines:
    return (f"bicarbonate {change_text(one.change(BICARBONATE, moment), UNIT)}",)


def _way(one: Tried) -> Way | None:
    return by_strong_ions(
        one.mix,
        volume_l=one.given_l,
        bicarbonate_mmol_l=one.subject.bicarbonate_mmol_l,
        space_l=one.outside_l(0.0),
    )


def _difference(one: Tried) -> Lines:
    way = _way(one)
    if way is None:
        return (NOT_ON_LABEL,)
    return (f"{number(way.per_litre_mmol)} mEq/L", f"pushes {WAYS[way.direction]}")


def _direction(one: Tried) -> str:
    """Whether the curve goes the way the rule says."""
    way = _way(one)
    if way is None:
        return "Without chloride no direction can be told."
    moved = direction_of(one.change(BICARBONATE, one.end_min))
    if moved == way.direction:
        return "The curve agrees."
    return (
        f"The curve goes {WAYS[moved]}: buffers take time or go unused, cells buffer, thinned "
        "albumin leaves base, and kidneys pass salt."
    )


def _plasma(subject: Subject) -> Plasma:
    """The person's plasma, its strong ion difference that which fits the pH."""
    weak = Plasma(0.0, subject.albumin_g_l, subject.phosphate_mmol_l, subject.pco2_mmhg)
    return Plasma(
        weak.charge_meq_l(subject.ph),
        subject.albumin_g_l,
        subject.phosphate_mmol_l,
        subject.pco2_mmhg,
    )


def _mixed(one: Tried) -> Lines:
    difference = one.mix.strong_ion_difference_meq_l
    if difference is None:
        return (NOT_ON_LABEL,)
    mixed = _plasma(one.subject).mixed(one.outside_l(0.0), one.given_l, difference)
    ph = solve_ph(mixed)
    change = bicarbonate_of(ph, mixed.pco2_mmhg) - one.subject.bicarbonate_mmol_l
    return (f"bicarbonate {change_text(change, UNIT)}", f"pH {number(ph, PH_PLACES)}")


def _curve_with_ph(one: Tried, moment: float) -> Lines:
    return (*_curve(one, moment), f"pH {number(one.at('ph', moment), PH_PLACES)}")
