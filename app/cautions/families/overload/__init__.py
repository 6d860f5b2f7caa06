"""Too much fluid for heart, lungs or kidneys, and mannitol that cannot leave."""

from typing import Final

from app.cautions.families.overload import dialysis, diluents, heart, mannitol
from app.cautions.rule import Rule

RULES: Final[tuple[Rule, ...]] = (
    *heart.RULES,
    *dialysis.RULES,
    *mannitol.RULES,
    *diluents.RULES,
)
