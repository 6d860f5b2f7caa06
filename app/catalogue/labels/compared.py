"""A label beside the catalogue's entry: every difference, and none that is only rounding."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.fluid import Fluid
from app.catalogue.labels.held import (
    FLOAT_NOISE,
    MG_PER_G,
    ROUNDING_SHARE,
    Difference,
    Held,
    volume_of,
)
from app.catalogue.labels.reading import Figure, Label
from app.catalogue.labels.slips import slip_of_label
from app.catalogue.labels.weighed import salts_against
from app.chemistry.composition import Composition
from app.chemistry.errors import UnitError
from app.chemistry.salts import SALT_BY_KEY
from app.chemistry.substances import ION_BY_KEY, IONS
from app.chemistry.units import meq_from_mmol

KJ_PER_KCAL: Final = 4.184
# Fewer ions than this are no list: a label may name one in passing.
ENOUGH_FOR_A_LIST: Final = 2
UNIT_WORDS: Final = {"meq": "mEq", "mosm": "mOsm", "kj": "kJ"}
SUGARS: Final = {"glucose": False, "glucose_monohydrate": True}
COLLOIDS: Final = ("albumin", "gelatin", "starch", "mannitol")


def held_against(label: Label, fluid: Fluid) -> Held:
    """Every figure of the label beside the entry's, in the label's own unit and to its digits.

    An ion that only one of them names is a difference once the label lists ions at all, unless a
    salt of it is given by weight. Salts are turned into ions and summed. What the entry tells and
    the label does not is `not_told`.
    """
    checks = (*_ions(label, fluid), *salts_against(label, fluid), *_masses(label, fluid))
    checks += tuple(_others(label, fluid))
    differences = tuple(check for check in checks if isinstance(check, Difference))
    same = tuple(check for check in checks if isinstance(check, str))
    without_volume = tuple(
        f"{figure.as_written}: the label gives no volume; taken as of a litre"
        for figure in label.figures
        if not figure.basis_told
    )
    unread = (*label.unread, *without_volume)
    left_open = tuple(
        figure.as_written
        for figure in label.figures
        if figure.name_kind == "unclear" or figure.key == "osmolality"
    )
    return Held(differences, same, unread, tuple(_not_told(label, fluid)), left_open)


def agrees(figure: Figure, entry: float) -> bool:
    """Whether the entry's value, in the label's unit and volume, prints as the label does, or lies
    in the label's range, or under its bound.
    """
    # A half may have been rounded up or down: 2.5 prints as 2 or as 3.
    slack = figure.half_digit + FLOAT_NOISE
    if figure.at_most:
        return entry <= figure.value + slack
    if figure.is_range:
        return float(figure.lower) - slack <= entry <= float(figure.upper) + slack
    return abs(entry - figure.value) <= slack


def _printed(figure: Figure) -> str:
    """The number as printed, with the other end of its range or that it is a bound."""
    if figure.at_most:
        return f"at most {figure.number}"
    return f"{figure.lower} to {figure.upper}" if figure.is_range else figure.number


def _ions(label: Label, fluid: Fluid) -> Iterator[Difference | str]:
    told = label.of("ion")
    for figure in told:
        yield _ion(figure, fluid)
    named = {figure.key for figure in told}
    if len(named) < ENOUGH_FOR_A_LIST:
        return
    # A label that gives its salts by weight may list only some of their ions.
    named |= {ion for one in label.of("salt") for ion, _ in SALT_BY_KEY[one.key].ions}
    for ion in IONS:
        amount = fluid.composition.ion_mmol_l(ion.key)
        if amount and ion.key not in named:
            yield Difference(ion.name, "not in its list", f"{amount:g} mmol/L")


def _ion(figure: Figure, fluid: Fluid) -> Difference | str:
    ion = ION_BY_KEY[figure.key]
    amount = fluid.composition.ion_mmol_l(figure.key)
    unit = UNIT_WORDS.get(figure.unit, figure.unit)
    volume = volume_of(figure)
    said = f"{_printed(figure)} {unit}{volume}"
    if amount is None:
        return Difference(ion.name, said, "not on the label the entry was made from")
    expected = _in_label_unit(figure, amount)
    if expected is None:
        return Difference(ion.name, said, f"{amount:g} mmol/L", "that unit does not fit an ion")
    if agrees(figure, expected):
        return f"{ion.name} {said}"
    in_its_unit = (
        "" if unit == "mmol" and not volume.strip("/L ") else f" ({expected:.4g} {unit}{volume})"
    )
    return Difference(
        ion.name, said, f"{amount:g} mmol/L{in_its_unit}", slip_of_label(figure, amount)
    )


def _in_label_unit(figure: Figure, mmol_l: float) -> float | None:
    """The entry's ion in the unit and volume the label prints; None for a unit that cannot be."""
    try:
        per_litre = {
            "mmol": lambda: mmol_l,
            "meq": lambda: meq_from_mmol(figure.key, mmol_l),
            "g": lambda: mmol_l * ION_BY_KEY[figure.key].molar_mass_g_mol / MG_PER_G,
            "mg": lambda: mmol_l * ION_BY_KEY[figure.key].molar_mass_g_mol,
        }[figure.unit]()
    except (KeyError, UnitError):
        return None
    return per_litre / figure.per_litre


def _masses(label: Label, fluid: Fluid) -> Iterator[Difference | str]:
    composition = fluid.composition
    for figure in label.of("mass"):
        if figure.unit not in ("g", "mg"):
            continue
        grams = figure.value * (1 / MG_PER_G if figure.unit == "mg" else 1)
        said = f"{figure.number} {figure.unit}{volume_of(figure)}"
        if figure.key in SUGARS:
            yield _sugar(figure, grams, said, composition)
            continue
        entry = getattr(composition, f"{figure.key}_g_l")
        if agrees(figure, entry / figure.per_litre * figure.value / grams if grams else entry):
            yield f"{figure.key} {said}"
        else:
            yield Difference(figure.key, said, f"{entry:g} g/L")


def _sugar(figure: Figure, grams: float, said: str, composition: Composition) -> Difference | str:
    """Glucose is the same when the amount is: 50 g of monohydrate is 45.5 g without its water."""
    amount = Composition(
        glucose_g_l=grams * figure.per_litre, glucose_monohydrate=SUGARS[figure.key]
    )
    entry = f"{composition.glucose_g_l:g} g/L, " + (
        "as monohydrate" if composition.glucose_monohydrate else "anhydrous"
    )
    said = f"{said}, {'as monohydrate' if SUGARS[figure.key] else 'anhydrous'}"
    slack = figure.half_digit / figure.value if figure.value else 0.0
    expected = composition.glucose_anhydrous_g_l
    if abs(amount.glucose_anhydrous_g_l - expected) <= (slack + ROUNDING_SHARE) * expected:
        return f"glucose {said}"
    other_basis = grams * figure.per_litre == composition.glucose_g_l
    why = "the same weight with and without water: a tenth apart" if other_basis else ""
    return Difference("glucose", said, entry, why)


def _others(label: Label, fluid: Fluid) -> Iterator[Difference | str]:
    for figure in label.of("other"):
        if figure.key == "ph":
            yield from _ph(figure, fluid)
        elif figure.key == "osmolarity":
            yield _plain("osmolarity", figure, fluid.osmolarity_labelled_mosm_l, "mOsm/L")
        elif figure.key == "energy":
            factor = KJ_PER_KCAL if figure.unit == "kj" else 1.0
            kcal = fluid.energy_kcal_l
            yield _plain("energy", figure, None if kcal is None else kcal * factor, "kcal/L")


def _plain(of: str, figure: Figure, entry: float | None, unit: str) -> Difference | str:
    said = f"{figure.number} {UNIT_WORDS.get(figure.unit, figure.unit)}{volume_of(figure)}"
    if entry is None:
        return Difference(of, said, "not in the entry")
    if agrees(figure, entry / figure.per_litre):
        return f"{of} {said}"
    return Difference(of, said, f"{entry:g} {unit}")


def _ph(figure: Figure, fluid: Fluid) -> Iterator[Difference | str]:
    ph = fluid.ph
    told = [("pH, low end", figure.lower, ph.low), ("pH, high end", figure.upper, ph.high)]
    if figure.number != figure.lower:
        told.insert(0, ("pH", figure.number, ph.typical))
    for of, number, entry in told:
        if not number:
            continue
        if entry is None:
            yield Difference(of, number, "not in the entry")
        elif float(number) == entry:
            yield f"{of} {number}"
        else:
            yield Difference(of, number, f"{entry:g}")


def _not_told(label: Label, fluid: Fluid) -> Iterator[str]:
    """What the entry holds and the label leaves out; no fault of either."""
    named = {figure.key for figure in label.figures}
    composition = fluid.composition
    if not label.of("ion") and not label.of("salt") and _has_ions(composition):
        yield "ions"
    if composition.glucose_g_l and not named & set(SUGARS):
        yield "glucose"
    for key in COLLOIDS:
        if getattr(composition, f"{key}_g_l") and key not in named:
            yield key
    for key, has in (
        ("osmolarity", fluid.osmolarity_labelled_mosm_l is not None),
        ("energy", fluid.energy_kcal_l is not None),
        ("ph", fluid.ph.low is not None or fluid.ph.typical is not None),
    ):
        if has and key not in named:
            yield {"ph": "pH"}.get(key, key)


def _has_ions(composition: Composition) -> bool:
    return any(composition.ion_mmol_l(ion.key) for ion in IONS)
