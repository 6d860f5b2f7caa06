"""What shares a lumen: pairs that clash, boluses on a vasoactive lumen, too few lumens."""

from typing import Final

from app.cautions.families.sharing import lumens, pairs, surge
from app.cautions.rule import Rule

RULES: Final[tuple[Rule, ...]] = (*pairs.RULES, *surge.RULES, *lumens.RULES)
