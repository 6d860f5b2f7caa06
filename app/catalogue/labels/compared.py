"""A label beside the catalogue's entry: every difference, and none that is only rounding."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from app.catalogue.fluid import Fluid
from app.catalogue.labels.reading import Figure, Label
from app.catalogue.labels.words import UNCLEAR_NAMES
from app.chemistry.composition import Composition
from app.chemistry.errors import UnitError
from app.chemistry.salts import salt_amounts, salt_mmol_from_g
from app.chemistry.substances import ION_BY_KEY, IONS
from app.chemistry.units import meq_from_mmol

# Beside half of the last digit: atomic weights are rounded, and a maker's sum may be as well.
ROUNDING_SHARE: Final = 0.005
MG_PER_G: Final = 1000.0
KJ_PER_KCAL: Final = 4.184
# Fewer ions than this are no list: a label may name one in passing.
ENOUGH_FOR_A_LIST: Final = 2
UNIT_WORDS: Final = {"meq": "mEq", "mosm": "mOsm", "kj": "kJ"}
SUGARS: Final = {"glucose": False, "glucose_monohydrate": True}
IGNORED_BELOW_MMOL_L: Final = 0.05
FLOAT_NOISE: Final = 1e-9
TEN: Final = 10.0


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing in which label and entry differ. label, entry: in words with units."""

    of: str
    label: str
    entry: str
    why: str = ""


@dataclass(frozen=True, slots=True)
class Held:
    """A label held against an entry. same: what agrees; unread: what nobody could read."""

    differences: tuple[Difference, ...]
    same: tuple[str, ...]
    unread: tuple[str, ...] = ()
    not_told: tuple[str, ...] = ()


def held_against(label: Label, fluid: Fluid) -> Held:
    """Every figure of the label beside the entry's, in the label's own unit and to its digits.

    An ion that only one of them names is a difference once the label lists ions at all. Salts are
    turned into ions and summed. What the entry tells and the label does not is `not_told`.
    """
    checks = (*_ions(label, fluid), *_salts(label, fluid), *_masses(label, fluid))
    checks += tuple(_others(label, fluid))
    differences = tuple(check for check in checks if isinstance(check, Difference))
    same = tuple(check for check in checks if isinstance(check, str))
    without_volume = tuple(
        f"{figure.as_written}: the label gives no volume; taken as of a litre"
        for figure in label.figures
        if not figure.basis_told
    )
    return Held(differences, same, (*label.unread, *without_volume), tuple(_not_told(label, fluid)))


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
    for ion in IONS:
        amount = fluid.composition.ion_mmol_l(ion.key)
        if amount and ion.key not in named:
            yield Difference(ion.name, "not in its list", f"{amount:g} mmol/L")


def _ion(figure: Figure, fluid: Fluid) -> Difference | str:
    ion = ION_BY_KEY[figure.key]
    amount = fluid.composition.ion_mmol_l(figure.key)
    unit = UNIT_WORDS.get(figure.unit, figure.unit)
    volume = _volume(figure)
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
    return Difference(ion.name, said, f"{amount:g} mmol/L{in_its_unit}", _slip(figure, amount))


def _volume(figure: Figure) -> str:
    return "/L" if figure.per_litre == 1 else f" in {figure.basis_ml:g} mL"


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


def _slip(figure: Figure, mmol_l: float) -> str:
    """The usual slip that would make the two agree; empty when none does."""
    if figure.at_most or figure.is_range:
        return ""
    charge = abs(ION_BY_KEY[figure.key].charge or 1)
    told = figure.value * figure.per_litre
    expected = mmol_l * charge if figure.unit == "meq" else mmol_l
    slips = {
        "as if mmol had been printed for mEq": mmol_l if figure.unit == "meq" else 0.0,
        "as if mEq had been printed for mmol": mmol_l * charge if figure.unit == "mmol" else 0.0,
        "ten times: a point, or the volume": expected * TEN,
        "a tenth: a point, or the volume": expected / TEN,
        "half: as of 500 mL": expected / 2,
        "double: as of 2 L": expected * 2,
    }
    for words, value in slips.items():
        if value and value != expected and abs(told - value) <= ROUNDING_SHARE * value:
            return words
    return ""


def _salts(label: Label, fluid: Fluid) -> Iterator[Difference | str]:
    """The label's salts turned into ions, summed, and held against the entry's."""
    salts = _one_list(figure for figure in label.of("salt") if figure.unit in ("g", "mg"))
    if not salts:
        return
    left_open = {ion for one in label.of("unclear") for ion in UNCLEAR_NAMES[one.key]}
    given = [_given(figure) for figure in salts]
    for ion in IONS:
        amounts = [(one.ion_mmol_l(ion.key) or 0.0, share) for one, share in given]
        total = sum(amount for amount, _ in amounts)
        slack = sum(amount * share for amount, share in amounts)
        if ion.key not in left_open:
            yield from _salt_sum(ion.key, total, slack, fluid.composition)


def _given(figure: Figure) -> tuple[Composition, float]:
    """What a salt brings to a litre, and how far its last digit leaves that open, as a share."""
    grams = figure.value * figure.per_litre / (MG_PER_G if figure.unit == "mg" else 1)
    share = figure.half_digit / figure.value if figure.value else 0.0
    return salt_amounts(figure.key, salt_mmol_from_g(figure.key, grams)), share


def _one_list(salts: Iterable[Figure]) -> list[Figure]:
    """Each salt once: a label may say it by weight and in per cent, and the finer figure counts."""
    best: dict[str, Figure] = {}
    for figure in salts:
        held = best.get(figure.key)
        if held is None or _fineness(figure) < _fineness(held):
            best[figure.key] = figure
    return list(best.values())


def _fineness(figure: Figure) -> float:
    return figure.half_digit * figure.per_litre


def _salt_sum(
    key: str, total: float, slack: float, composition: Composition
) -> Iterator[Difference | str]:
    entry = composition.ion_mmol_l(key)
    if entry is None or max(total, entry) < IGNORED_BELOW_MMOL_L:
        return
    name = f"{ION_BY_KEY[key].name}, from the salts"
    if abs(total - entry) <= slack + _half_digit(entry) + ROUNDING_SHARE * entry:
        yield f"{name} {total:.4g} mmol/L"
    else:
        yield Difference(name, f"{total:.4g} mmol/L", f"{entry:g} mmol/L")


def _half_digit(entry: float) -> float:
    decimals = len(f"{entry:g}".partition(".")[2])
    return float(0.5 * 10.0**-decimals)


def _masses(label: Label, fluid: Fluid) -> Iterator[Difference | str]:
    composition = fluid.composition
    for figure in label.of("mass"):
        if figure.unit not in ("g", "mg"):
            continue
        grams = figure.value * (1 / MG_PER_G if figure.unit == "mg" else 1)
        said = f"{figure.number} {figure.unit}{_volume(figure)}"
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
    said = f"{figure.number} {UNIT_WORDS.get(figure.unit, figure.unit)}{_volume(figure)}"
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
    for key, has in (
        ("osmolarity", fluid.osmolarity_labelled_mosm_l is not None),
        ("ph", fluid.ph.low is not None or fluid.ph.typical is not None),
    ):
        if has and key not in named:
            yield {"ph": "pH"}.get(key, key)


def _has_ions(composition: Composition) -> bool:
    return any(composition.ion_mmol_l(ion.key) for ion in IONS)
