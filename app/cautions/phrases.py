"""Figures and results as a nurse would read them aloud."""

from app.patient.snapshot import Snapshot

SIGNIFICANT = 3
THOUSAND = 1000


def number(value: float) -> str:
    """Up to three significant figures, no trailing zeros, no exponent: "0.24", "5", "1,250"."""
    if abs(value) >= THOUSAND:
        return f"{round(value):,}"
    return f"{float(f'{value:.{SIGNIFICANT}g}'):g}"


def reading(patient: Snapshot, name: str) -> str:
    """A usable result in words: "potassium 5.9 mmol/L, 2 h old". NotKnown when there is none."""
    result = patient.result(name)
    unit = "" if result.unit == "1" else f" {result.unit}"
    figure = f"{name.replace('_', ' ')} {number(patient.value(name))}{unit}"
    if result.taken_at is None:
        return f"{figure}, time not recorded"
    return f"{figure}, {patient.age_text(result)} old"


def reading_or_lack(patient: Snapshot, name: str) -> str:
    """As reading(), or "no usable potassium" when there is none."""
    if patient.value_or_none(name) is None:
        return f"no usable {name.replace('_', ' ')}"
    return reading(patient, name)


def listed(names: tuple[str, ...]) -> str:
    """Names as people list them: "a, b and c"."""
    if len(names) < 2:  # noqa: PLR2004 - one name needs no "and"
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"
