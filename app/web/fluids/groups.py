"""Fluids in the groups a ward thinks in, each with the few figures it is told apart by."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from app.catalogue.fluid import Fluid
from app.chemistry.composition import Composition
from app.chemistry.substances import ACETATE, BICARBONATE, CITRATE, GLUCONATE, LACTATE, MALATE
from app.web.fluids.shelf import Shelf, StockView
from app.web.show import Aligned, aligned, number

BUFFERS: Final = (BICARBONATE, LACTATE, ACETATE, GLUCONATE, MALATE, CITRATE)
PLACES: Final = 2
# More than any balanced fluid holds: what the label's name then mentions.
POTASSIUM_ADDED_ABOVE_MMOL_L: Final = 10.0
NONE: Final = Aligned("none")
NOT_ON_LABEL: Final = "not on the label"
BALANCED: Final = "Balanced and Ringer's"
SALINE: Final = "Sodium chloride"
GLUCOSE: Final = "Glucose, with or without salt"
POTASSIUM: Final = "With potassium in the bag"
ALKALI: Final = "Bicarbonate and lactate"
COLLOIDS: Final = "Colloids"
SUGARS: Final = "Strong sugars"
CONCENTRATES: Final = "Concentrates, and what is never hung as it is"
NOBODY_TOLD: Final = Shelf()
GROUPS: Final = (BALANCED, SALINE, GLUCOSE, POTASSIUM, ALKALI, COLLOIDS, SUGARS, CONCENTRATES)


@dataclass(frozen=True, slots=True)
class FluidRow:
    """One fluid in a list."""

    id: str
    name: str
    sodium: Aligned
    potassium: Aligned
    calcium: Aligned
    magnesium: Aligned
    chloride: Aligned
    buffer: str
    glucose: Aligned
    osmolarity: Aligned
    tonicity: str
    never_hung: str
    stock: StockView


@dataclass(frozen=True, slots=True)
class Group:
    """Fluids under one heading."""

    name: str
    rows: tuple[FluidRow, ...]


def grouped(fluids: Iterable[Fluid], shelf: Shelf = NOBODY_TOLD) -> tuple[Group, ...]:
    """All fluids, each in its group; groups without any are left out."""
    by_group: dict[str, list[FluidRow]] = {name: [] for name in GROUPS}
    for fluid in fluids:
        by_group[group_of(fluid)].append(fluid_row(fluid, shelf))
    return tuple(Group(name, tuple(rows)) for name, rows in by_group.items() if rows)


def group_of(fluid: Fluid) -> str:
    """The one group a fluid is listed in."""
    if fluid.never_hung or fluid.kind == "concentrate":
        return CONCENTRATES
    if fluid.kind == "osmotic":
        return SUGARS
    return COLLOIDS if fluid.kind == "colloid" else _crystalloid_group(fluid.composition)


def _crystalloid_group(c: Composition) -> str:
    if c.potassium_mmol_l > POTASSIUM_ADDED_ABOVE_MMOL_L:
        return POTASSIUM
    if c.glucose_g_l:
        return GLUCOSE
    if not c.chloride_mmol_l:
        return ALKALI
    return BALANCED if c.potassium_mmol_l else SALINE


def fluid_row(fluid: Fluid, shelf: Shelf = NOBODY_TOLD) -> FluidRow:
    """The figures a fluid is told apart by, per litre; what is absent says "none". shelf: where it
    is to be had.
    """
    c = fluid.composition
    return FluidRow(
        id=fluid.id,
        name=fluid.name,
        sodium=or_none(c.sodium_mmol_l),
        potassium=or_none(c.potassium_mmol_l),
        calcium=or_none(c.calcium_mmol_l),
        magnesium=or_none(c.magnesium_mmol_l),
        chloride=or_none(c.chloride_mmol_l),
        buffer=buffer_words(c),
        glucose=or_none(c.glucose_anhydrous_g_l),
        osmolarity=or_none(fluid.osmolarity_mosm_l, places=0),
        tonicity=fluid.tonicity_class or "not known",
        never_hung=fluid.never_hung,
        stock=shelf.view(fluid.id),
    )


def or_none(value: float | None, places: int = PLACES) -> Aligned:
    """An amount on the decimal point; "none" when absent, and said when not on the label."""
    if value is None:
        return Aligned(NOT_ON_LABEL)
    return aligned(value, places) if value else NONE


def buffer_words(c: Composition) -> str:
    """Every buffer by name: "acetate 27, gluconate 23"."""
    amounts = ((ion.name, c.ion_mmol_l(ion.key)) for ion in BUFFERS)
    named = [f"{name} {number(amount, PLACES)}" for name, amount in amounts if amount]
    return ", ".join(named) or "none"
