"""Sodium by hand: change by a volume, by a balance, for glucose, and deficits."""

from collections.abc import Iterator, Sequence
from typing import Final

from app.catalogue.fluid import ML_PER_L
from app.physiology.sodium import (
    HILLIER_MMOL_L_PER_STEP,
    NORMAL_SODIUM_MMOL_L,
    free_water_deficit_l,
    sodium_after_balance_mmol_l,
    sodium_change_mmol_l,
    sodium_change_of_balance_mmol_l,
    sodium_deficit_mmol,
    sodium_for_glucose_mmol_l,
)
from app.web.prediction.pencil.rows import HandRow, Lines, cells_of, change_text, said_of
from app.web.prediction.pencil.tried import Tried, when
from app.web.show import amount, capital, number

# Where the limit of the day stands, mmol/L, and its words.
Aim = tuple[float, str]
UNIT: Final = "mmol/L"
SERIES: Final = "sodium_mmol_l"
GLUCOSE: Final = "glucose_mmol_l"
# Beyond these a deficit is worked out: to the limit of the day, and where none counts to the low
# one (European guideline 2014, from memory) or to normal.
LOW_MMOL_L: Final = 130.0
HIGH_MMOL_L: Final = 150.0
# From here on glucose is high enough to hold sodium down visibly (common practice, no source).
GLUCOSE_HIGH_MMOL_L: Final = 10.0
# A rise of glucose that draws enough water out of cells to show, mmol/L.
GLUCOSE_SHOWS_MMOL_L: Final = 2.0


def sodium_rows(tried: Sequence[Tried], aim: Aim | None = None) -> Iterator[HandRow]:
    """Rows on sodium; those of glucose and of deficits only where there is something to say.

    aim: the limit of the day, to which a deficit is worked out.
    """
    subject = tried[0].subject
    yield _by_volume(tried)
    yield _by_balance(tried)
    if subject.glucose_mmol_l >= GLUCOSE_HIGH_MMOL_L:
        yield _for_glucose(tried)
    if subject.sodium_mmol_l < LOW_MMOL_L:
        yield _salt_deficit(tried, aim)
    if subject.sodium_mmol_l > HIGH_MMOL_L:
        yield _water_deficit(tried, aim)


def _curve(one: Tried, moment: float) -> Lines:
    return (change_text(one.change(SERIES, moment), UNIT),)


def _by_volume(tried: Sequence[Tried]) -> HandRow:
    return HandRow(
        "sodium-change",
        "Change of sodium by the volume",
        cells_of(tried, _volume_cell, _curve),
        "The formula spreads the bag at once through all body water and counts no losses. "
        + said_of(tried, _losses_explain),
    )


def _volume_cell(one: Tried) -> Lines:
    whole = change_text(_change(one, one.given_l), UNIT)
    litre = change_text(_change(one, 1.0), UNIT)
    return (whole,) if one.given_l == 1 else (whole, f"a litre: {litre}")


def _change(one: Tried, litres: float) -> float:
    return sodium_change_mmol_l(
        infusate_mmol_l=one.mix.cation_salt_mmol_l,
        volume_l=litres,
        sodium_mmol_l=one.subject.sodium_mmol_l,
        body_water_l=one.subject.water_l,
    )


def _losses_explain(one: Tried) -> str:
    """What the curve has lost, what the formula says with that counted, and what is left over."""
    moment = one.moments[-1]
    salt_mmol = one.in_mmol(moment) - one.lost_mmol(moment)
    counted = _simple_form(one, salt_mmol, one.in_l(moment) - one.lost_l(moment))
    lost = capital(one.lost_words(moment))
    besides = f" {one.beside_words(moment)}".rstrip()
    said = f"{lost} on the curve.{besides} Counted, the formula says {change_text(counted, UNIT)}."
    rise = one.change(GLUCOSE, one.end_min)
    if rise < GLUCOSE_SHOWS_MMOL_L:
        return said
    held = f"glucose {change_text(rise, UNIT)} at {when(one.end_min)}"
    return f"{said} The sugar not yet used ({held}) draws water out of cells and lowers sodium."


def _simple_form(one: Tried, salt_mmol: float, water_l: float) -> float:
    return sodium_change_of_balance_mmol_l(
        salt_gain_mmol=salt_mmol,
        water_gain_l=water_l,
        sodium_mmol_l=one.subject.sodium_mmol_l,
        body_water_l=one.subject.water_l,
    )


def _by_balance(tried: Sequence[Tried]) -> HandRow:
    return HandRow(
        "sodium-balance",
        "Change of sodium by salt and water, in minus out",
        cells_of(tried, _balance_cell, _curve),
        f"{_told_words(tried[0])} {said_of(tried, _line_explains)}",
    )


def _balance_cell(one: Tried) -> Lines:
    salt_mmol, water_l = _balance(one)
    after = sodium_after_balance_mmol_l(
        sodium_mmol_l=one.subject.sodium_mmol_l,
        body_water_l=one.subject.water_l,
        salt_gain_mmol=salt_mmol,
        water_gain_l=water_l,
    )
    return (change_text(after - one.subject.sodium_mmol_l, UNIT),)


def _balance(one: Tried) -> tuple[float, float]:
    """Sodium and potassium, mmol, and water, L: what is in less the losses told, by the end."""
    moment = one.end_min
    salt_mmol = one.in_mmol(moment) - one.told_mmol(moment)
    return salt_mmol, one.in_l(moment) - one.told_l(moment)


def _line_explains(one: Tried) -> str:
    simple = change_text(_simple_form(one, *_balance(one)), UNIT)
    return (
        f"Of the same balance the form above would say {simple}; the line's constants do the rest."
    )


def _told_words(one: Tried) -> str:
    """What the balance counts besides the bag, and what the curve does."""
    beside = one.beside_words(one.end_min).replace("The curve has", "Counted besides the bag:")
    if not one.losses:
        passing = "little, as failing kidneys do" if one.subject.kidneys_fail else "as in health"
        lost = (
            f"No loss was told, so the formula counts none; the curve lets kidneys pass {passing}."
        )
    else:
        volume, salt = one.told_l(one.end_min) * ML_PER_L, one.told_mmol(one.end_min)
        lost = (
            f"Lost as told by {when(one.end_min)}: {amount(volume, 'mL', 0)} with "
            f"{amount(salt, 'mmol', 0)} of sodium and potassium; the curve counts it too."
        )
    return f"{beside} {lost}".strip()


def _for_glucose(tried: Sequence[Tried]) -> HandRow:
    subject = tried[0].subject
    low = sodium_for_glucose_mmol_l(subject.sodium_mmol_l, subject.glucose_mmol_l)
    high = sodium_for_glucose_mmol_l(
        subject.sodium_mmol_l, subject.glucose_mmol_l, HILLIER_MMOL_L_PER_STEP
    )
    insulin = "the insulin that runs counted" if tried[0].insulin else "with no insulin given"
    both = (f"{number(low)} by 1.6 a step", f"{number(high)} by 2.4 a step")
    return HandRow(
        "sodium-for-glucose",
        "Sodium were glucose normal",
        cells_of(tried, lambda _: both, _with_glucose),
        "The formula says where sodium would stand once glucose is normal, with no bag given; the "
        "curve counts the bag and shows sodium as it would be measured beside the glucose of that "
        f"time, {insulin}.",
    )


def _with_glucose(one: Tried, moment: float) -> Lines:
    glucose = amount(one.at(GLUCOSE, moment), UNIT)
    return (number(one.at(SERIES, moment)), f"with glucose {glucose}")


def _salt_deficit(tried: Sequence[Tried], aim: Aim | None) -> HandRow:
    to, said = aim or (LOW_MMOL_L, "")
    deficit = sodium_deficit_mmol(
        sodium_mmol_l=tried[0].subject.sodium_mmol_l,
        target_mmol_l=to,
        body_water_l=tried[0].subject.water_l,
    )
    return HandRow(
        "sodium-deficit",
        f"Sodium deficit {_aim_words(to, said)}",
        cells_of(tried, lambda _: (_deficit_words(deficit, "mmol", 0, said),), _salt_kept),
        "A deficit is of one moment and counts no loss to come; urine can do the rest. The curve "
        "shows what of the sodium and potassium given is kept.",
    )


def _aim_words(to: float, said: str) -> str:
    """To what a deficit is worked out: the limit of the day, where one counts."""
    return f"to {number(to)} ({said})" if said else f"to {number(to)}, which is no dose for a day"


def _deficit_words(deficit: float, unit: str, places: int, said: str) -> str:
    """How much; nothing more where the limit of the day is reached."""
    if deficit <= 0:
        return "none: the limit of the day is reached"
    return f"{amount(deficit, unit, places)}{', most in 24 h' if said else ''}"


def _salt_kept(one: Tried, moment: float) -> Lines:
    kept = one.in_mmol(moment) - one.lost_mmol(moment)
    return (_kept_words(kept, "mmol", 0),)


def _kept_words(kept: float, unit: str, places: int) -> str:
    if kept < 0:
        return f"{amount(-kept, unit, places)} more lost than given"
    return f"{amount(kept, unit, places)} kept"


def _water_deficit(tried: Sequence[Tried], aim: Aim | None) -> HandRow:
    to, said = aim or (NORMAL_SODIUM_MMOL_L, "")
    deficit = free_water_deficit_l(
        sodium_mmol_l=tried[0].subject.sodium_mmol_l,
        body_water_l=tried[0].subject.water_l,
        target_mmol_l=to,
    )
    return HandRow(
        "water-deficit",
        f"Water deficit {_aim_words(to, said)}",
        cells_of(tried, lambda _: (_deficit_words(deficit, "L", 1, said),), _water_kept),
        "A deficit is of one moment and counts no loss to come. The curve shows what of the water "
        "given is kept.",
    )


def _water_kept(one: Tried, moment: float) -> Lines:
    return (_kept_words(one.in_l(moment) - one.lost_l(moment), "L", 2),)
