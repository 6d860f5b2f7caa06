"""From what a litre holds to the parts of its ion column, in words and charges."""

from collections.abc import Iterable
from dataclasses import replace
from typing import Final

from app.catalogue.plasma import Charge, Plasma
from app.chemistry.composition import PHOSPHATE_CHARGE_AT_PH_7_4, Composition
from app.chemistry.substances import (
    ACETATE,
    BICARBONATE,
    CATIONS,
    CHLORIDE,
    CITRATE,
    GLUCONATE,
    LACTATE,
    MALATE,
    PHOSPHATE,
    SULFATE,
    Substance,
)
from app.web.pictures.ion_columns import NOT_LABELLED, Column, Part
from app.web.show import number

PLACES: Final = 2
NO_GAP: Final = "no gap"
# From the foot up: anions that stay, then those that become bicarbonate, then the weak ones.
ANIONS_FROM_THE_FOOT: Final = (
    CHLORIDE, SULFATE, LACTATE, ACETATE, GLUCONATE, MALATE, CITRATE, BICARBONATE, PHOSPHATE,
)  # fmt: skip


def column_of(name: str, composition: Composition) -> Column:
    """The ion column of a fluid."""
    gap = composition.strong_ion_difference_meq_l
    chloride = composition.chloride_mmol_l
    return Column(
        name=name,
        cations=_parts(composition, CATIONS),
        anions=(*_parts(composition, ANIONS_FROM_THE_FOOT), *_rest(composition)),
        gap_from_meq_l=None
        if chloride is None
        else chloride + composition.sulfate_mmol_l * abs(SULFATE.charge or 0),
        gap="" if gap is None else number(gap) if gap else NO_GAP,
    )


def plasma_column(plasma: Plasma) -> Column:
    """Plasma's ion column: albumin by its charge, and last what nobody measures, called so."""
    column = column_of(plasma.name, plasma.composition)
    ions = tuple(part for part in column.anions if part.key != "proteins")
    named = {part.title.split(" ")[0] for part in ions}
    rest = (charge for charge in plasma.anion_charges() if charge.name not in named)
    return replace(column, anions=(*ions, *(_weak_part(charge) for charge in rest)))


def _weak_part(charge: Charge) -> Part:
    key, word = ("others", "others") if charge.is_remainder else ("proteins", charge.name)
    amount = number(charge.meq_l)
    return Part(key, word, charge.meq_l, amount, f"{charge.name}, {amount} mEq/L of charge")


def _parts(composition: Composition, ions: Iterable[Substance]) -> tuple[Part, ...]:
    amounts = ((ion, composition.ion_mmol_l(ion.key)) for ion in ions)
    return tuple(part_of(ion, amount) for ion, amount in amounts if amount)


def part_of(ion: Substance, amount_mmol_l: float) -> Part:
    """One ion's part, from mmol/L. Phosphate has no fixed charge: its words stay in mmol."""
    charges = abs(PHOSPHATE_CHARGE_AT_PH_7_4 if ion.charge is None else ion.charge)
    charge_meq_l = amount_mmol_l * charges
    mmol = f"{number(amount_mmol_l, PLACES)} mmol/L"
    if ion.charge is None:
        short = mmol.removesuffix("/L")
        return Part(ion.key, ion.name, charge_meq_l, short, f"{ion.name} {mmol}")
    title = f"{ion.name} {mmol} = {number(charge_meq_l, PLACES)} mEq/L"
    return Part(ion.key, _symbol(ion), charge_meq_l, number(charge_meq_l, PLACES), title)


def _symbol(ion: Substance) -> str:
    """Na⁺ stays; a word loses its sign, for it stands on the anions' side anyway."""
    return ion.name if ion.symbol.startswith(ion.name) else ion.symbol


def _rest(composition: Composition) -> tuple[Part, ...]:
    """The colloid's own charge, or the chloride that a label does not give."""
    colloid = -composition.colloid_charge_meq_l
    parts: list[Part] = []
    if colloid > 0:
        words = "gelatin" if composition.gelatin_g_l else "albumin"
        amount = number(colloid)
        parts.append(Part("proteins", words, colloid, amount, f"{words}, {amount} mEq/L of charge"))
    if composition.chloride_mmol_l is None:
        known = sum(p.charge_meq_l for p in _parts(composition, ANIONS_FROM_THE_FOOT)) + colloid
        missing = max(composition.cations_meq_l - known, 0.0)
        title = "chloride and protein: not on the label"
        parts.append(Part(NOT_LABELLED, "not on", missing, "the label", title))
    return tuple(parts)
