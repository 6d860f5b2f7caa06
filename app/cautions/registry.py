"""Every caution rule, one line a family."""

from typing import Final

from app.cautions.data_rules import DATA_RULES
from app.cautions.families import (
    acid_base,
    additives,
    calcium,
    colloids,
    glucose,
    hormones,
    ketoacidosis,
    magnesium,
    newborn,
    obstetrics,
    order_rate,
    order_resuscitation,
    order_salts,
    order_stated,
    order_totals,
    order_watch,
    overload,
    phosphate,
    potassium,
    resuscitation,
    sharing,
    sodium,
    vein,
)
from app.cautions.rule import Rule

RULES: Final[tuple[Rule, ...]] = (
    *calcium.RULES,
    *potassium.RULES,
    *acid_base.RULES,
    *sodium.RULES,
    *colloids.RULES,
    *phosphate.RULES,
    *hormones.RULES,
    *ketoacidosis.RULES,
    *newborn.RULES,
    *obstetrics.RULES,
    *resuscitation.RULES,
    *overload.RULES,
    *order_stated.RULES,
    *order_rate.RULES,
    *order_totals.RULES,
    *order_salts.RULES,
    *order_watch.RULES,
    *order_resuscitation.RULES,
    *vein.RULES,
    *sharing.RULES,
    *additives.RULES,
    *magnesium.RULES,
    *glucose.RULES,
)
# With the findings about the data itself, which have no check of their own.
ALL_RULES: Final = (*RULES, *DATA_RULES)
RULE_BY_ID: Final = {rule.id: rule for rule in ALL_RULES}
