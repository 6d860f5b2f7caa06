"""Acid and base: buffers in alkalosis, lactate and the liver, bicarbonate."""

from typing import Final

from app.cautions.families.acid_base import bicarbonate, buffers, lactate
from app.cautions.rule import Rule

RULES: Final[tuple[Rule, ...]] = (*buffers.RULES, *lactate.RULES, *bicarbonate.RULES)
