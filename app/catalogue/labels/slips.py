"""The usual slips of a hand that types a label: said as a question, never corrected."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

from app.catalogue.check import CHARGE_SLACK_MEQ_L
from app.catalogue.labels.reading import Figure
from app.chemistry.composition import Composition
from app.chemistry.substances import ION_BY_KEY, IONS, Substance

TEN: Final = 10.0
# How near a printed figure must be to be a slip of another; and a typed one, which is rounded.
ROUNDING_SHARE: Final = 0.005
NEAR_SHARE: Final = 0.015
# More than this many ways to make the charges balance say nothing of any of them.
MOST_TOLD: Final = 3


@dataclass(frozen=True, slots=True)
class Slip:
    """One figure that looks slipped. field: of the entry; instead: what was likely meant."""

    field: str
    name: str
    typed_mmol_l: float
    instead_mmol_l: float
    why: str

    def __str__(self) -> str:
        return (
            f"{self.name} {self.typed_mmol_l:g} mmol/L: {self.why}? "
            f"It would be {self.instead_mmol_l:g} mmol/L."
        )


def slip_of_label(figure: Figure, mmol_l: float) -> str:
    """The usual slip that would make a label's ion and the entry's mmol/L agree; empty when none
    does.
    """
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


def slips_of(typed: Composition, before: Composition | None) -> tuple[Slip, ...]:
    """Figures that one slip sets apart from the entry before, or whose slip taken back would make
    the charges balance. before: None for a new entry.
    """
    from_before = tuple(_from_before(typed, before)) if before is not None else ()
    told = {slip.field for slip in from_before}
    closing = [slip for slip in _closing(typed, before) if slip.field not in told]
    return (*from_before, *(closing if len(closing) <= MOST_TOLD else ()))


def _from_before(typed: Composition, before: Composition) -> Iterator[Slip]:
    """A figure that was changed by exactly what a slip changes."""
    for ion in IONS:
        now, was = typed.ion_mmol_l(ion.key), before.ion_mmol_l(ion.key)
        if not now or not was or now == was:
            continue
        found = next((why for why, meant in _undone(ion, now) if _is_near(meant, was)), None)
        if found is not None:
            yield _slip(ion, now, was, found)


def _closing(typed: Composition, before: Composition | None) -> Iterator[Slip]:
    """A figure whose slip taken back makes the charges balance; none while they do."""
    if _balances(typed) is not False:
        return
    for ion in IONS:
        now = typed.ion_mmol_l(ion.key)
        is_old = before is not None and before.ion_mmol_l(ion.key) == now
        if not now or is_old:
            continue
        for why, meant in (*_undone(ion, now), *_digits_exchanged(now)):
            if _balances(replace(typed, **{f"{ion.key}_mmol_l": meant})):  # type: ignore[arg-type]
                yield _slip(ion, now, meant, why)
                break


def _slip(ion: Substance, now: float, meant: float, why: str) -> Slip:
    return Slip(f"composition_mmol_l.{ion.key}", ion.name, now, round(meant, 4), why)


def _undone(ion: Substance, now: float) -> Iterator[tuple[str, float]]:
    """Each usual slip, taken back."""
    charge = abs(ion.charge or 1)
    if charge > 1:
        yield "was mEq/L typed for mmol/L", now / charge
        yield "was mmol/L taken for mEq/L", now * charge
    yield "has the point slipped", now / TEN
    yield "has the point slipped", now * TEN
    yield "is it the amount in 500 mL", now * 2
    yield "is it the amount in 2 L", now / 2


def _digits_exchanged(now: float) -> Iterator[tuple[str, float]]:
    """Two neighbouring digits the other way round: 145 for 154."""
    text = f"{now:g}"
    for place, (one, other) in enumerate(pairwise(text)):
        if one != other and one.isdigit() and other.isdigit():
            swapped = text[:place] + other + one + text[place + 2 :]
            yield "are two digits exchanged", float(swapped)


def _is_near(one: float, other: float) -> bool:
    return abs(one - other) <= NEAR_SHARE * other


def _balances(composition: Composition) -> bool | None:
    """Whether cations and anions agree; None where chloride is not on the label."""
    gap = composition.charge_gap_meq_l
    return None if gap is None else abs(gap) <= CHARGE_SLACK_MEQ_L
