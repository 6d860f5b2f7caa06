"""Colloids: starch, gelatin and albumin."""

from typing import Final

from app.cautions.families.colloids import albumin, synthetic
from app.cautions.rule import Rule

RULES: Final[tuple[Rule, ...]] = (*synthetic.RULES, *albumin.RULES)
