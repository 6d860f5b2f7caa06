"""What a peripheral vein bears: osmolarity, glucose, salt, potassium, calcium, acid."""

from typing import Final

from app.cautions.families.vein import calcium, concentration, potassium, strong
from app.cautions.rule import Rule

RULES: Final[tuple[Rule, ...]] = (
    *concentration.RULES,
    *strong.RULES,
    *potassium.RULES,
    *calcium.RULES,
)
