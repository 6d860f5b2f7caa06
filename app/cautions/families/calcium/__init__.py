"""Calcium: with citrated blood, with ceftriaxone, in massive transfusion, when it is high."""

from typing import Final

from app.cautions.families.calcium import blood, blood_set, ceftriaxone, plasma
from app.cautions.rule import Rule

RULES: Final[tuple[Rule, ...]] = (
    *blood.RULES,
    *blood_set.RULES,
    *ceftriaxone.RULES,
    *plasma.RULES,
)
