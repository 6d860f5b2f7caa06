"""Every caution rule, one line a family."""

from typing import Final

from app.cautions.families import (
    order_rate,
    order_resuscitation,
    order_salts,
    order_stated,
    order_totals,
    order_watch,
    potassium,
)
from app.cautions.rule import Rule

RULES: Final[tuple[Rule, ...]] = (
    *potassium.RULES,
    *order_stated.RULES,
    *order_rate.RULES,
    *order_totals.RULES,
    *order_salts.RULES,
    *order_watch.RULES,
    *order_resuscitation.RULES,
)
RULE_BY_ID: Final = {rule.id: rule for rule in RULES}
