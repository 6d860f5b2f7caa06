"""Ion columns with the words that stand under and around them."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from app.catalogue.fluid import Fluid
from app.catalogue.plasma import Plasma
from app.chemistry.composition import Composition
from app.web.pictures.ion_columns import Column, draw
from app.web.pictures.ion_parts import NO_GAP, column_of, plasma_column
from app.web.pictures.marks import Drawing
from app.web.show import number

KEY: Final = (
    "Height is charge, mEq/L, on one scale for every column; cations and anions are equally high. "
    "The pale field between them is the strong ion difference. Dotted line: the height of plasma. "
    "Plasma's “others” are a remainder of typical figures, not a measurement."
)


@dataclass(frozen=True, slots=True)
class PictureColumn:
    """One drawn column: its name, lines under it, and the whole of it in one spoken sentence."""

    name: str
    lines: tuple[str, ...]
    spoken: str
    drawing: Drawing


@dataclass(frozen=True, slots=True)
class Picture:
    """The columns in order, plasma first, and what explains them."""

    columns: tuple[PictureColumn, ...]
    key: str = KEY


def ion_picture(plasma: Plasma, fluids: Sequence[Fluid]) -> Picture:
    """Plasma and the fluids beside it."""
    columns = (plasma_column(plasma), *(column_of(f.name, f.composition) for f in fluids))
    lines = (
        _gap_lines(columns[0]),
        *(_lines(c, f) for c, f in zip(columns[1:], fluids, strict=True)),
    )
    return Picture(
        tuple(
            PictureColumn(column.name, line, spoken(column), drawing)
            for column, line, drawing in zip(columns, lines, draw(columns), strict=True)
        )
    )


def _lines(column: Column, fluid: Fluid) -> tuple[str, ...]:
    return (*_gap_lines(column), *_uncharged(fluid.composition))


def _gap_lines(column: Column) -> tuple[str, ...]:
    if not column.charge_meq_l:
        return ()
    if column.gap_from_meq_l is None:
        return ("strong ion difference not known: no chloride on the label",)
    # The number and its unit stay on one line.
    return (gap_words(column).replace(" mEq/L", "\N{NO-BREAK SPACE}mEq/L"),)


def gap_words(column: Column) -> str:
    """The strong ion difference in words; "no gap" in the picture is 0 here."""
    amount = "0" if column.gap == NO_GAP else column.gap
    return f"strong ion difference {amount} mEq/L"


def _uncharged(c: Composition) -> tuple[str, ...]:
    """What a litre holds that carries no charge and so has no height."""
    masses = (
        (c.glucose_anhydrous_g_l, "glucose"),
        (c.mannitol_g_l, "mannitol"),
        (c.albumin_g_l, "albumin"),
        (c.gelatin_g_l, "gelatin"),
        (c.starch_g_l, "hydroxyethyl starch"),
    )
    return tuple(f"{name} {number(grams)} g/L" for grams, name in masses if grams)


def spoken(column: Column) -> str:
    """The column as a screen reader should say it."""
    parts = (*column.cations, *column.anions)
    if not parts:
        return f"{column.name}: no ions"
    ions = "; ".join(part.title for part in parts)
    gap = f"; {gap_words(column)}" if column.gap else ""
    return f"{column.name}: {ions}{gap}"
