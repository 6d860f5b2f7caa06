"""What a litre holds, as a request writes it for a fluid that the catalogue lacks."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from app.catalogue.fluid import Fluid, PhRange
from app.chemistry.composition import Composition
from app.intake.request import Reader, Span
from app.physiology.course.loads import chloride_of, open_charge_meq_l

IONS: Final = (
    "sodium", "potassium", "calcium", "magnesium", "chloride", "lactate", "acetate", "gluconate",
    "malate", "bicarbonate", "citrate", "phosphate", "sulfate",
)  # fmt: skip
SOLUTES: Final = ("glucose", "albumin", "starch", "gelatin", "mannitol")
# Above the strongest salt that is drawn up (30% sodium chloride, 5,133 mmol/L), and water itself.
ION: Final = Span(0, 6000, "mmol/L")
SOLUTE: Final = Span(0, 1000, "g/L")
CHLORIDE: Final = "chloride_mmol_l"
NAMES: Final = (*(f"{ion}_mmol_l" for ion in IONS), *(f"{name}_g_l" for name in SOLUTES))
# Of a label's own, and nothing that the body is reckoned with.
IGNORED: Final = ("osmolarity_mosm_l", "osmolality_mosm_kg", "ph")
# A label's charges agree within this, or something is left out of it.
GAP_MEQ_L: Final = 5.0
GAP_SHARE: Final = 0.03
# What succinylated gelatin leaves open between its salts: 34 mEq/L in 4% (the catalogue's label).
GELATIN_MEQ_G: Final = 0.85


def read_composition(reader: Reader) -> Composition:
    """Amounts in one litre; what is not named is absent. Refuses a name that nothing reads.

    Chloride is unknown where it is null, and where it is not named and the other ions or albumin
    ask for it. What the salts of gelatin leave open is its own charge.
    """
    ions = {f"{ion}_mmol_l": reader.number(f"{ion}_mmol_l", ION) for ion in IONS}
    solutes = {f"{name}_g_l": reader.number(f"{name}_g_l", SOLUTE) for name in SOLUTES}
    _name_the_rest(reader)
    amounts = {name: value for name, value in {**ions, **solutes}.items() if value is not None}
    composition = Composition(**amounts)  # type: ignore[arg-type]
    if CHLORIDE in amounts:
        return _with_gelatin(composition, max(open_charge_meq_l(composition), 0.0))
    composition = _with_gelatin(composition, GELATIN_MEQ_G * composition.gelatin_g_l)
    asked_for = open_charge_meq_l(composition) > _tolerated(composition)
    if CHLORIDE in reader.data or asked_for or composition.albumin_g_l:
        return replace(composition, chloride_mmol_l=None)
    return composition


def _name_the_rest(reader: Reader) -> None:
    for name in sorted(set(map(str, reader.data)) - set(NAMES)):
        written = reader.data.get(name)
        if name in IGNORED:
            reader.ask(name, written, "Not used: what a litre holds says it.", minor=True)
        else:
            reader.refuse(name, written, f"one of {', '.join(NAMES)}")


def _with_gelatin(composition: Composition, charge_meq_l: float) -> Composition:
    if not composition.gelatin_g_l:
        return composition
    return replace(composition, colloid_charge_meq_l=-charge_meq_l)


def _tolerated(composition: Composition) -> float:
    return max(GAP_MEQ_L, GAP_SHARE * composition.cations_meq_l)


def as_fluid(composition: Composition) -> Fluid:
    """The composition as a fluid that is in no catalogue."""
    return Fluid("", "as composed", "crystalloid", composition, None, PhRange(), None, (), ())


def doubts_of(composition: Composition) -> Iterator[str]:
    """What does not add up: charges, once a chloride not given has balanced what it can."""
    whole = replace(composition, chloride_mmol_l=chloride_of(composition))
    gap = open_charge_meq_l(whole)
    if abs(gap) > _tolerated(composition):
        more = "positive" if gap > 0 else "negative"
        yield (
            f"Its {more} charges are {abs(gap):.0f} mEq/L more: an ion is missing or wrong. "
            "It is reckoned as written."
        )
