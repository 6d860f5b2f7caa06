"""What is put into the bag: salts that precipitate, drugs together, strong mixtures."""

from typing import Final

from app.cautions.families.additives import precipitates, strength
from app.cautions.rule import Rule

RULES: Final[tuple[Rule, ...]] = (*precipitates.RULES, *strength.RULES)
