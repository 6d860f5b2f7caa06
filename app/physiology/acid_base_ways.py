"""Which way a fluid moves acid-base, as it is taught: by strong ions, and by bicarbonate. Pure."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal

from app.chemistry.composition import PHOSPHATE_CHARGE_AT_PH_7_4, Composition
from app.chemistry.substances import ANIONS

Direction = Literal["up", "down", "hardly"]
# A change of bicarbonate that two samples of one patient do not tell apart, mmol/L (common
# practice, no source).
TOLD_APART_MMOL_L: Final = 0.5
# Charge of what is no strong ion and no bicarbonate from which it is worth a word, mEq/L.
WORTH_A_WORD_MEQ_L: Final = 2.0


@dataclass(frozen=True, slots=True)
class Way:
    """One teaching. per_litre: what a litre brings or leaves, mmol; brought and needed are of the
    whole volume, needed being what keeps bicarbonate as it is. change: of bicarbonate, mmol/L.
    """

    per_litre_mmol: float
    brought_mmol: float
    needed_mmol: float
    change_mmol_l: float

    @property
    def direction(self) -> Direction:
        """Where bicarbonate, and with it pH at the same carbon dioxide, goes."""
        return direction_of(self.change_mmol_l)


def direction_of(change_mmol_l: float) -> Direction:
    """A change of bicarbonate as a direction; hardly one where two samples do not tell it."""
    if abs(change_mmol_l) < TOLD_APART_MMOL_L:
        return "hardly"
    return "up" if change_mmol_l > 0 else "down"


def by_strong_ions(
    fluid: Composition, *, volume_l: float, bicarbonate_mmol_l: float, space_l: float
) -> Way | None:
    """The strong ion difference left once organic anions are used, against the patient's
    bicarbonate: above it pH goes up at the same carbon dioxide, under it down.

    space_l: fluid outside cells. None where chloride is not on the label. Carlesso et al.,
    Intensive Care Med 2011;37:461, from memory.
    """
    difference = fluid.strong_ion_difference_meq_l
    if difference is None:
        return None
    return _way(difference, volume_l, bicarbonate_mmol_l, space_l)


def by_bicarbonate(
    fluid: Composition, *, volume_l: float, bicarbonate_mmol_l: float, space_l: float
) -> Way:
    """Bicarbonate and what becomes it, against the bicarbonate that the volume dilutes.

    space_l: fluid outside cells. Textbook; every anion counts as used.
    """
    becomes = sum(
        ion.bicarbonate_yield * (fluid.ion_mmol_l(ion.key) or 0.0)
        for ion in ANIONS
        if ion.bicarbonate_yield
    )
    return _way(becomes, volume_l, bicarbonate_mmol_l, space_l)


def _way(per_litre: float, volume_l: float, bicarbonate_mmol_l: float, space_l: float) -> Way:
    brought, needed = per_litre * volume_l, bicarbonate_mmol_l * volume_l
    return Way(per_litre, brought, needed, (brought - needed) / (space_l + volume_l))


def disagree(strong: Way | None, bicarbonate: Way) -> bool:
    """True where the two teachings name different directions."""
    return strong is not None and strong.direction != bicarbonate.direction


def why_they_differ(fluid: Composition) -> tuple[str, ...]:
    """What in a fluid the one teaching counts and the other does not, in words with figures."""
    return tuple(_reasons(fluid))


def _reasons(fluid: Composition) -> Iterator[str]:
    if abs(fluid.colloid_charge_meq_l) >= WORTH_A_WORD_MEQ_L:
        what = "gelatin" if fluid.gelatin_g_l else "protein"
        charge = abs(fluid.colloid_charge_meq_l)
        yield f"its {what} carries {charge:.0f} mEq/L itself, which never becomes bicarbonate"
    phosphate = fluid.phosphate_mmol_l * -PHOSPHATE_CHARGE_AT_PH_7_4
    if phosphate >= WORTH_A_WORD_MEQ_L:
        yield f"its phosphate carries {phosphate:.0f} mEq/L, which stays"
    gap = fluid.charge_gap_meq_l
    if gap is not None and abs(gap) >= WORTH_A_WORD_MEQ_L:
        yield f"the charges on its label differ by {abs(gap):.0f} mEq/L"
