"""Calcium: with citrated blood, with ceftriaxone, lost to a massive transfusion."""

from typing import Final

from app.cautions.families.calcium import blood, blood_set, ceftriaxone
from app.cautions.rule import Rule

RULES: Final[tuple[Rule, ...]] = (*blood.RULES, *blood_set.RULES, *ceftriaxone.RULES)
