"""What a litre holds, as a request writes it for a fluid that the catalogue lacks."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.fluid import Fluid, PhRange
from app.chemistry.composition import Composition
from app.intake.request import Reader, Span

IONS: Final = (
    "sodium", "potassium", "calcium", "magnesium", "chloride", "lactate", "acetate", "gluconate",
    "malate", "bicarbonate", "citrate", "phosphate", "sulfate",
)  # fmt: skip
SOLUTES: Final = ("glucose", "albumin", "starch", "gelatin", "mannitol")
# Above the strongest salt that is drawn up (30% sodium chloride, 5,133 mmol/L), and water itself.
ION: Final = Span(0, 6000, "mmol/L")
SOLUTE: Final = Span(0, 1000, "g/L")
NAMES: Final = (*(f"{ion}_mmol_l" for ion in IONS), *(f"{name}_g_l" for name in SOLUTES))
# A label's charges agree within this, or something is left out of it.
GAP_MEQ_L: Final = 5.0
GAP_SHARE: Final = 0.03
# Of albumin at pH 7.4 (Figge, J Lab Clin Med 1992;120:713, from memory).
ALBUMIN_MEQ_G: Final = 0.28


def read_composition(reader: Reader) -> Composition:
    """Amounts in one litre; what is not named is absent. Refuses a name that nothing reads.

    Chloride is unknown where it is null, and where albumin comes without it, as on some labels.
    """
    ions = {f"{ion}_mmol_l": reader.number(f"{ion}_mmol_l", ION) for ion in IONS}
    solutes = {f"{name}_g_l": reader.number(f"{name}_g_l", SOLUTE) for name in SOLUTES}
    for name in sorted(set(map(str, reader.data)) - set(NAMES)):
        reader.refuse(name, reader.data.get(name), f"one of {', '.join(NAMES)}")
    amounts = {name: value for name, value in {**ions, **solutes}.items() if value is not None}
    if "chloride_mmol_l" not in amounts and (
        "chloride_mmol_l" in reader.data or solutes["albumin_g_l"]
    ):
        return Composition(chloride_mmol_l=None, **amounts)  # type: ignore[arg-type]
    return Composition(**amounts)  # type: ignore[arg-type]


def as_fluid(composition: Composition) -> Fluid:
    """The composition as a fluid that is in no catalogue."""
    return Fluid("", "as composed", "crystalloid", composition, None, PhRange(), None, (), ())


def doubts_of(composition: Composition) -> Iterator[str]:
    """What does not add up: charges, unless a colloid of unknown charge may fill them."""
    gap = composition.charge_gap_meq_l
    if gap is None or composition.gelatin_g_l:
        return
    gap -= composition.albumin_g_l * ALBUMIN_MEQ_G
    if abs(gap) > max(GAP_MEQ_L, GAP_SHARE * composition.cations_meq_l):
        more = "positive" if gap > 0 else "negative"
        yield (
            f"Its {more} charges are {abs(gap):.0f} mEq/L more: an ion is missing or wrong. "
            "It is reckoned as written."
        )
