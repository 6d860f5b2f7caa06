"""Acid and base: buffers in alkalosis, lactate and the liver, bicarbonate."""

from typing import Final

from app.cautions.families.acid_base import bicarbonate, buffers, lactate, saline
from app.cautions.rule import Rule

RULES: Final[tuple[Rule, ...]] = (
    *buffers.RULES, *saline.RULES, *lactate.RULES, *bicarbonate.RULES,
)  # fmt: skip
