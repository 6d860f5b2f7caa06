"""Too little fluid, the wrong one, or cold: shock, burns, adrenal crisis, muscle injury."""

from typing import Final

from app.cautions.families.resuscitation import adrenal, burns, muscle, shock, warming
from app.cautions.rule import Rule

RULES: Final[tuple[Rule, ...]] = (
    *shock.RULES,
    *burns.RULES,
    *adrenal.RULES,
    *muscle.RULES,
    *warming.RULES,
)
