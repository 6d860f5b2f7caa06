"""A label's figures laid over an entry: what a draft begins with when the label is right."""

from collections.abc import Iterator, Mapping
from copy import deepcopy
from typing import Any, Final

from app.catalogue.labels.compared import KJ_PER_KCAL, SUGARS
from app.catalogue.labels.held import MG_PER_G
from app.catalogue.labels.reading import Figure, Label
from app.chemistry.errors import UnitError
from app.chemistry.salts import salt_amounts, salt_mmol_from_g
from app.chemistry.substances import ION_BY_KEY, IONS
from app.chemistry.units import mmol_from_meq, mmol_from_mg

PLACES: Final = 4
FEWEST_IN_A_LIST: Final = 2
Amount = tuple[str, float]


def taken_from(label: Label, document: Mapping[str, Any]) -> dict[str, Any]:
    """The entry with every figure that the label states; the rest stays as it is.

    Ions that a label's own list leaves out are taken out. Salts by weight count only where the
    label lists no ions. The entry's sources stay: who drafts says where the figures are from.
    """
    taken: dict[str, Any] = deepcopy(dict(document))
    ions = dict(_ions(label)) or dict(_from_salts(label))
    if len(ions) >= FEWEST_IN_A_LIST:
        _replace(taken, "composition_mmol_l", ions, kept=("not_labelled",))
    else:
        _lay_over(taken, "composition_mmol_l", ions)
    if ions.get("chloride"):
        taken.get("composition_mmol_l", {}).pop("not_labelled", None)
    _masses(label, taken)
    for figure in label.of("other"):
        _other(figure, taken)
    return taken


def _replace(
    taken: dict[str, Any], table: str, amounts: Mapping[str, float], *, kept: tuple[str, ...]
) -> None:
    held = {key: value for key, value in taken.get(table, {}).items() if key in kept}
    taken[table] = {**held, **amounts}


def _lay_over(taken: dict[str, Any], table: str, amounts: Mapping[str, Any]) -> None:
    if amounts:
        taken[table] = {**taken.get(table, {}), **amounts}


def _ions(label: Label) -> Iterator[Amount]:
    for figure in label.of("ion"):
        amount = mmol_l_of(figure)
        if amount:
            yield figure.key, amount


def mmol_l_of(figure: Figure) -> float | None:
    """An ion's figure in mmol/L; None for a range, a bound, and a unit that cannot be."""
    if figure.is_range or figure.at_most or figure.key not in ION_BY_KEY:
        return None
    printed = figure.value * figure.per_litre
    try:
        amount = {
            "mmol": lambda: printed,
            "meq": lambda: mmol_from_meq(figure.key, printed),
            "mg": lambda: mmol_from_mg(figure.key, printed),
            "g": lambda: mmol_from_mg(figure.key, printed * MG_PER_G),
        }[figure.unit]()
    except (KeyError, UnitError):
        return None
    return round(amount, PLACES)


def _from_salts(label: Label) -> Iterator[Amount]:
    """Ions from salts by weight; none where a salt leaves its amount open."""
    salts = {one.key: one for one in label.of("salt") if one.unit in ("g", "mg")}
    if not salts or label.of("unclear"):
        return
    sums: dict[str, float] = {}
    for figure in salts.values():
        grams = figure.value * figure.per_litre / (MG_PER_G if figure.unit == "mg" else 1)
        given = salt_amounts(figure.key, salt_mmol_from_g(figure.key, grams))
        for ion in IONS:
            sums[ion.key] = sums.get(ion.key, 0.0) + (given.ion_mmol_l(ion.key) or 0.0)
    yield from ((key, round(amount, 1)) for key, amount in sums.items() if round(amount, 1))


def _masses(label: Label, taken: dict[str, Any]) -> None:
    for figure in label.of("mass"):
        if figure.unit not in ("g", "mg"):
            continue
        grams = figure.value * figure.per_litre / (MG_PER_G if figure.unit == "mg" else 1)
        amount = round(grams, PLACES)
        if figure.key in SUGARS:
            basis = "monohydrate" if SUGARS[figure.key] else "anhydrous"
            _lay_over(taken, "composition_g_l", {"glucose": amount, "glucose_basis": basis})
        else:
            _lay_over(taken, "composition_g_l", {figure.key: amount})


def _other(figure: Figure, taken: dict[str, Any]) -> None:
    if figure.key == "ph":
        # A typical value beside a range, a range alone, or one value alone.
        ends = {"low": figure.lower, "high": figure.upper}
        told = {key: float(number) for key, number in ends.items() if number}
        if not figure.is_range:
            told["typical"] = figure.value
        taken["ph"] = told
    elif figure.key == "osmolarity":
        taken["osmolarity_labelled_mosm_l"] = round(figure.value * figure.per_litre, PLACES)
    elif figure.key == "energy":
        kcal = figure.value * figure.per_litre / (KJ_PER_KCAL if figure.unit == "kj" else 1.0)
        taken["energy_kcal_l"] = round(kcal, 1)
