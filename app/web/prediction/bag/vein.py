"""What a vein bears: the osmolarity of the bag with its additives, against the unit's limit."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from app.cautions.rule import Limits
from app.web.prediction.asked import Bag
from app.web.show import number

MOST_RULE: Final = "line-osm-peripheral"
IRRITANT_RULE: Final = "line-osm-irritant"
SALINE_RULE: Final = "line-hypertonic-saline"


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
    osmolarity = mix.osmolarity_mosm_l
    if osmolarity is None:
        osmolarity = bag.fluid.osmolarity_mosm_l
    if osmolarity is None:
        return VeinLine(mark, "the label gives no osmolarity.", MOST_RULE)
    most = limits[MOST_RULE]["osmolarity_most_mosm_l"]
    said = f"{number(osmolarity, 0)} mOsm/L calculated"
    if osmolarity > most:
        return VeinLine(mark, f"{said}, above {number(most)}: a central line.", MOST_RULE)
    if mix.sodium_mmol_l >= limits[SALINE_RULE]["fluid_sodium_mmol_l"]:
        words = f"{said}: strong saline, a central line unless it is a rescue."
        return VeinLine(mark, words, SALINE_RULE)
    if osmolarity > limits[IRRITANT_RULE]["osmolarity_from_mosm_l"]:
        words = f"{said}: a large vein, and look at the site every few hours."
        return VeinLine(mark, words, IRRITANT_RULE)
    return VeinLine(mark, f"{said}: a peripheral vein bears that.", MOST_RULE)
