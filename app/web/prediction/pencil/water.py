"""Where the bag goes, by hand: its free water, and the textbook's split."""

from collections.abc import Iterator, Sequence
from typing import Final

from app.catalogue.fluid import ML_PER_L
from app.chemistry.composition import Composition
from app.chemistry.water import electrolyte_free_water_edelman_l, electrolyte_free_water_l
from app.physiology.compartments import Spread, spread_colloid, spread_crystalloid
from app.web.prediction.pencil.rows import HandRow, Lines, cells_of, change_text, said_of
from app.web.prediction.pencil.tried import SPACES, Tried
from app.web.show import amount, number, sentence

CELLS: Final = SPACES[2]
NAMES: Final = ("plasma", "interstitium", "cells")


def water_rows(tried: Sequence[Tried]) -> Iterator[HandRow]:
    """Free water, and where the volume is."""
    sodium = number(tried[0].subject.sodium_mmol_l)
    yield HandRow(
        "electrolyte-free-water",
        "Water in the bag beside its salt",
        cells_of(tried, _free_water, _cells),
        f"Counted against a plasma sodium of {sodium}, at rest and with nothing lost: cells "
        "should gain two thirds of it, and lose water where it is under none.",
    )
    yield HandRow(
        "compartments",
        "Where it is, by the textbook's shares",
        cells_of(tried, _by_shares, _by_curve),
        "The shares are of a fluid long at rest with nothing lost; on the curve plasma fills "
        f"first and empties over an hour or so. {said_of(tried, _passed)}",
    )


def _passed(one: Tried) -> str:
    moment = one.moments[-1]
    return f"{sentence(one.lost_words(moment))} {one.beside_words(moment)}".strip()


def _free_water(one: Tried) -> Lines:
    sodium = one.subject.sodium_mmol_l
    simple = electrolyte_free_water_l(one.mix, one.given_l, sodium)
    edelman = electrolyte_free_water_edelman_l(one.mix, one.given_l, sodium)
    return (
        f"{amount(simple * ML_PER_L, 'mL', 0)}, simple form",
        f"{amount(edelman * ML_PER_L, 'mL', 0)}, by Edelman's line",
    )


def _cells(one: Tried, moment: float) -> Lines:
    return (f"cells {change_text(one.change(CELLS, moment), 'mL', 0)}",)


def _by_shares(one: Tried) -> Lines:
    spread = _spread(one)
    litres = (spread.plasma_l, spread.interstitial_l, spread.cells_l)
    return _lines([one_l * ML_PER_L for one_l in litres])


def _spread(one: Tried) -> Spread:
    if holds_colloid(one.mix):
        return spread_colloid(one.given_l)
    free = electrolyte_free_water_l(one.mix, one.given_l, one.subject.sodium_mmol_l)
    return spread_crystalloid(one.given_l, free)


def holds_colloid(mix: Composition) -> bool:
    """True for a fluid that the textbook leaves in plasma."""
    return bool(mix.albumin_g_l or mix.starch_g_l or mix.gelatin_g_l)


def _by_curve(one: Tried, moment: float) -> Lines:
    return _lines([one.change(space, moment) for space in SPACES])


def _lines(millilitres: Sequence[float]) -> Lines:
    pairs = zip(NAMES, millilitres, strict=True)
    return tuple(f"{name} {change_text(ml, 'mL', 0)}" for name, ml in pairs)
