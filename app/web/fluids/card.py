"""One fluid's card: what it is made of, what follows from that, and how sure we are."""

from dataclasses import dataclass
from typing import Final

from app.catalogue.amounts import PER_LITRE, QUANTITIES, PackAmount, Quantity, amount, pack_amounts
from app.catalogue.catalogue import Catalogue
from app.catalogue.figures import Figure, figures
from app.catalogue.fluid import Fluid
from app.cautions.describe import SourceText, source_text
from app.chemistry.substances import ION_BY_KEY
from app.chemistry.units import meq_from_mmol, mg_from_mmol
from app.web.fluids.groups import PLACES, or_none
from app.web.show import Aligned, aligned, capital, number, span
from app.web.show import amount as amount_text

FIGURE_FIELDS: Final = {
    "composition": "what it is made of",
    "osmolarity": "osmolarity on the label",
    "ph": "pH",
    "pack_sizes": "bag sizes",
    "energy": "energy",
}
PERCENT: Final = 100.0


@dataclass(frozen=True, slots=True)
class MadeOf:
    """One ion or solute: per litre as mmol (or g), as charge and as mass, and in each bag."""

    name: str
    unit: str
    per_litre: Aligned
    charge: Aligned
    mass: Aligned
    in_bags: tuple[Aligned, ...]


@dataclass(frozen=True, slots=True)
class Computed:
    """One computed figure with its formula and the numbers put in."""

    name: str
    value: str
    formula: str
    working: str


@dataclass(frozen=True, slots=True)
class Checked:
    """One check of the label: what was compared, in a sentence, and why it differs if it does."""

    name: str
    text: str
    why: str


@dataclass(frozen=True, slots=True)
class Variant:
    """Another fluid of the same bare name, and how it differs."""

    id: str
    name: str
    differences: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Sourced:
    """Where some of the figures come from."""

    name: str
    sources: tuple[SourceText, ...]


def made_of(fluid: Fluid) -> tuple[MadeOf, ...]:
    """Every ion and solute that the label names, in the label's order."""
    return tuple(_made_of(pack) for pack in pack_amounts(fluid))


def _made_of(pack: PackAmount) -> MadeOf:
    quantity, per_litre = pack.quantity, pack.per_litre
    ion = ION_BY_KEY.get(quantity.key)
    has_charge = ion is not None and ion.charge is not None
    charge = meq_from_mmol(quantity.key, per_litre) if has_charge and per_litre else None
    mass = mg_from_mmol(quantity.key, per_litre) if ion and per_litre else None
    return MadeOf(
        name=quantity.name,
        unit=quantity.unit,
        per_litre=or_none(per_litre),
        charge=_or_blank(charge, PLACES),
        mass=_or_blank(mass, 0),
        in_bags=tuple(or_none(value, PLACES) for _, value in pack.in_packs),
    )


def _or_blank(value: float | None, places: int) -> Aligned:
    return Aligned("–") if value is None else aligned(value, places)


def computed(fluid: Fluid) -> tuple[Computed, ...]:
    """Every computed figure but those the label is checked by."""
    return tuple(computed_view(figure) for figure in figures(fluid.composition))


def computed_view(figure: Figure) -> Computed:
    """A computed figure as text."""
    places = PLACES if figure.unit.startswith("L ") else 1
    value = amount_text(figure.value, figure.unit, places)
    return Computed(capital(figure.name), value, figure.formula, figure.working)


def checked(fluid: Fluid) -> tuple[Checked, ...]:
    """Label against calculation: osmolarity and charge, with the reason where they differ."""
    why = dict(fluid.explained)
    c = fluid.composition
    charge = "not checked: no chloride on the label"
    if c.anions_meq_l is not None:
        charge = (
            f"cations {number(c.cations_meq_l)}, anions {number(c.anions_meq_l)} mEq/L, "
            f"difference {number(c.charge_gap_meq_l)}"
        )
    return (
        Checked("Osmolarity", _osmolarity_check(fluid), why.get("osmolarity", "")),
        Checked("Charge", charge, why.get("charge", "")),
    )


def _osmolarity_check(fluid: Fluid) -> str:
    label, calculated = fluid.osmolarity_labelled_mosm_l, fluid.composition.osmolarity_mosm_l
    if calculated is None:
        return "not checked: no chloride on the label"
    text = f"calculated {amount_text(calculated, 'mOsm/L')}"
    if not label:
        return f"not on the label; {text}"
    difference = PERCENT * (calculated - label) / label
    return f"label {amount_text(label, 'mOsm/L')}, {text}, difference {number(difference)}%"


def ph_text(fluid: Fluid) -> str:
    """The label's pH: usual value, and the range it may lie in."""
    ph = fluid.ph
    limits = span(ph.low, ph.high) if ph.low is not None and ph.high is not None else ""
    usual = f"usually {number(ph.typical)}" if ph.typical is not None else ""
    return ", ".join(part for part in (usual, limits) if part) or "not on the label"


def variants(fluid: Fluid, catalogue: Catalogue) -> tuple[Variant, ...]:
    """Fluids that share its bare name, each with every figure that differs."""
    if not fluid.variant_of:
        return ()
    others = (o for o in catalogue if o.variant_of == fluid.variant_of and o.id != fluid.id)
    return tuple(Variant(o.id, o.name, differences(fluid, o)) for o in others)


def differences(fluid: Fluid, other: Fluid) -> tuple[str, ...]:
    """What the other holds where it differs: "calcium 2 mmol/L, here 1.35"."""
    return tuple(
        f"{quantity.name} {_held(there, quantity)}, here {_held(here, quantity)}"
        for quantity in QUANTITIES
        for here, there in [
            (
                amount(fluid.composition, quantity, PER_LITRE),
                amount(other.composition, quantity, PER_LITRE),
            )
        ]
        if here != there
    )


def _held(value: float | None, quantity: Quantity) -> str:
    if value is None:
        return "not on the label"
    return f"{number(value, PLACES)} {quantity.unit}/L" if value else "none"


def sourced(fluid: Fluid) -> tuple[Sourced, ...]:
    """Sources by the figures they vouch for; figures with the same sources stand together."""
    fields: dict[tuple[SourceText, ...], list[str]] = {}
    for field, name in FIGURE_FIELDS.items():
        sources = tuple(source_text(source) for source in fluid.sources_of(field))
        fields.setdefault(sources, []).append(name)
    return tuple(Sourced(capital(", ".join(names)), texts) for texts, names in fields.items())
