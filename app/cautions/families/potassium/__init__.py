"""Potassium: too much for this patient, too fast, undiluted, or missing beside insulin."""

from typing import Final

from app.cautions.families.potassium import excess, insulin, rate, strength
from app.cautions.rule import Rule

RULES: Final[tuple[Rule, ...]] = (*excess.RULES, *rate.RULES, *strength.RULES, *insulin.RULES)
