"""Every caution rule, one line a family."""

from typing import Final

from app.cautions.families import potassium
from app.cautions.rule import Rule

RULES: Final[tuple[Rule, ...]] = (*potassium.RULES,)
RULE_BY_ID: Final = {rule.id: rule for rule in RULES}
