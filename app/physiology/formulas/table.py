"""Every formula that is written out, by subject."""

from typing import Final

from app.physiology.formulas import (
    acid_base,
    amounts,
    body,
    kinetics,
    needs,
    rates,
    sodium,
    strong_ions,
    water,
)
from app.physiology.formulas.formula import Formula, Subject

SUBJECTS: Final[tuple[Subject, ...]] = (
    sodium.SUBJECT,
    water.SUBJECT,
    strong_ions.SUBJECT,
    acid_base.SUBJECT,
    rates.SUBJECT,
    needs.SUBJECT,
    body.SUBJECT,
    amounts.SUBJECT,
    kinetics.SUBJECT,
)
FORMULAS: Final[tuple[Formula, ...]] = tuple(
    formula for subject in SUBJECTS for formula in subject.formulas
)
