"""What a vein bears: the osmolarity of the bag with its additives, against the unit's limit."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from app.cautions.rule import Limits
from app.chemistry.composition import Composition
from app.web.prediction.asked import Bag
from app.web.show import number

MOST_RULE: Final = "line-osm-peripheral"
IRRITANT_RULE: Final = "line-osm-irritant"
SALINE_RULE: Final = "line-hypertonic-saline"
CONCENTRATE_RULE: Final = "k-concentrate"
WATER_RULE: Final = "water-alone"
NOT_ANY: Final = "Not by any vein."
# Waiting for a central line delays the treatment of a fit: the rule of strong saline says so.
STRONG_SALINE: Final = (
    "A good peripheral vein will do for a rescue bolus, by local policy; a central line to go on "
    "with it."
)


@dataclass(frozen=True, slots=True)
class VeinLine:
    """One bag: its osmolarity and by which vein, with the rule that says so."""

    mark: str
    words: str
    rule_id: str


def vein_lines(
    bags: Sequence[Bag], volume_ml: float, limits: Mapping[str, Limits]
) -> tuple[VeinLine, ...]:
    """A line for each bag; its final osmolarity is calculated, the salt's own volume left out."""
    marks = len(bags) > 1
    return tuple(_line(bag, bag.mark if marks else "", volume_ml, limits) for bag in bags)


def _line(bag: Bag, mark: str, volume_ml: float, limits: Mapping[str, Limits]) -> VeinLine:
    mix = bag.mix(volume_ml)
    if mix.potassium_mmol_l > limits[CONCENTRATE_RULE]["strongest_mmol_l"]:
        return VeinLine(mark, NOT_ANY, CONCENTRATE_RULE)
    osmolarity = mix.osmolarity_mosm_l
    if osmolarity is None:
        osmolarity = bag.fluid.osmolarity_mosm_l
    if osmolarity is None:
        return VeinLine(mark, "the label gives no osmolarity.", MOST_RULE)
    if osmolarity < limits[WATER_RULE]["osmolarity_mosm_l"]:
        return VeinLine(mark, NOT_ANY, WATER_RULE)
    said = f"{number(osmolarity, 0)} mOsm/L calculated"
    if is_strong_saline(mix, limits):
        return VeinLine(mark, f"{said}: strong saline. {STRONG_SALINE}", SALINE_RULE)
    most = limits[MOST_RULE]["osmolarity_most_mosm_l"]
    if osmolarity > most:
        return VeinLine(mark, f"{said}, above {number(most)}: a central line.", MOST_RULE)
    if osmolarity > limits[IRRITANT_RULE]["osmolarity_from_mosm_l"]:
        words = f"{said}: a large vein, and look at the site every few hours."
        return VeinLine(mark, words, IRRITANT_RULE)
    return VeinLine(mark, f"{said}: a peripheral vein bears that.", MOST_RULE)


def is_strong_saline(mix: Composition, limits: Mapping[str, Limits]) -> bool:
    """Saline of 3% or more, as its rule has it: no concentrate, and not sodium bicarbonate."""
    own = limits[SALINE_RULE]
    strong = own["fluid_sodium_mmol_l"] <= mix.sodium_mmol_l < own["concentrate_mmol_l"]
    return strong and mix.bicarbonate_mmol_l * 2 <= mix.sodium_mmol_l
