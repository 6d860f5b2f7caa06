"""Water and salt where hormones or lithium steer the kidney."""

from typing import Final

from app.cautions.families.hormones import desmopressin, insipidus, lithium
from app.cautions.rule import Rule

RULES: Final[tuple[Rule, ...]] = (*desmopressin.RULES, *insipidus.RULES, *lithium.RULES)
