"""Glucose: with a high result, too fast or too slow, and before thiamine or phosphate."""

from typing import Final

from app.cautions.families.glucose import feeding, high, rate
from app.cautions.rule import Rule

RULES: Final[tuple[Rule, ...]] = (*high.RULES, *rate.RULES, *feeding.RULES)
