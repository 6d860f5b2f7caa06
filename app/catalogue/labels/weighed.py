"""A label's salts by weight, turned into ions and held against an entry's."""

from collections.abc import Iterable, Iterator
from typing import Final

from app.catalogue.fluid import Fluid
from app.catalogue.labels.held import (
    FLOAT_NOISE,
    MG_PER_G,
    ROUNDING_SHARE,
    Difference,
    volume_of,
)
from app.catalogue.labels.reading import Figure, Label
from app.catalogue.labels.words import UNCLEAR_NAMES
from app.chemistry.composition import Composition
from app.chemistry.salts import salt_amounts, salt_mmol_from_g
from app.chemistry.substances import ION_BY_KEY, IONS

IGNORED_BELOW_MMOL_L: Final = 0.05
# By which share a catalogue's figure may be rounded (set by trial on the catalogue; common
# practice, no source).
ENTRY_SHARE: Final = 0.03


def salts_against(label: Label, fluid: Fluid) -> Iterator[Difference | str]:
    """The label's salts turned into ions, summed, and held against the entry's."""
    weighed = [figure for figure in label.of("salt") if figure.unit in ("g", "mg")]
    salts = _one_list(weighed)
    if not salts:
        return
    yield from _said_twice(weighed, salts)
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
    grams = _grams_l(figure)
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


def _said_twice(weighed: Iterable[Figure], chosen: Iterable[Figure]) -> Iterator[Difference]:
    """A salt of which the label itself says two amounts."""
    finest = {figure.key: figure for figure in chosen}
    for figure in weighed:
        other = finest[figure.key]
        apart = abs(_grams_l(figure) - _grams_l(other))
        if apart > _half_digit_g_l(figure) + _half_digit_g_l(other) + FLOAT_NOISE:
            said = f"{_weight(other)} and {_weight(figure)}"
            name = figure.key.replace("_", " ")
            yield Difference(name, said, "one amount", "the label says two things of it")


def _weight(figure: Figure) -> str:
    return f"{figure.number} {figure.unit}{volume_of(figure)}"


def _grams_l(figure: Figure) -> float:
    return figure.value * figure.per_litre / (MG_PER_G if figure.unit == "mg" else 1)


def _half_digit_g_l(figure: Figure) -> float:
    return _fineness(figure) / (MG_PER_G if figure.unit == "mg" else 1)


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
    """How far the entry's own rounding may be off: 29 for 28.7. A small figure says more than its
    last digit: 1 mmol/L of magnesium is not one and a half.
    """
    decimals = len(f"{entry:g}".partition(".")[2])
    return min(float(0.5 * 10.0**-decimals), max(ENTRY_SHARE * entry, IGNORED_BELOW_MMOL_L))
