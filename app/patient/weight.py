"""Whether a weight can be right for an age: pounds for kilograms, grams, a slipped point."""

from typing import Final

from app.patient.snapshot import ADULT_FROM_YEARS, DAYS_PER_YEAR, NEONATE_TO_DAYS

# Lightest and heaviest that are believed without asking, kg (common practice, no source).
ADULT_KG: Final = (25.0, 300.0)
NEWBORN_KG: Final = (0.3, 6.5)
INFANT_KG: Final = (1.5, 16.0)
# A child's usual weight is about twice (age + 4), kg (old resuscitation rule, from memory).
CHILD_SHARES: Final = (0.5, 2.1)
OLDER_CHILD_KG: Final = (14.0, 160.0)
OLDER_FROM_YEARS: Final = 9.0


def weight_doubt(age_years: float | None, weight_kg: float | None) -> str:
    """What to ask about a weight that hardly fits the age; empty when it may be right."""
    if age_years is None or weight_kg is None:
        return ""
    low, high = believable_kg(age_years)
    if low <= weight_kg <= high:
        return ""
    return (
        f"{weight_kg:g} kg hardly fits {_age(age_years)}; {low:.3g} to {high:.3g} kg is expected. "
        "Pounds, grams or a slipped point?"
    )


def believable_kg(age_years: float) -> tuple[float, float]:
    """Lightest and heaviest weight believed at an age, kg."""
    if age_years * DAYS_PER_YEAR <= NEONATE_TO_DAYS:
        return NEWBORN_KG
    if age_years < 1:
        return INFANT_KG
    if age_years >= ADULT_FROM_YEARS:
        return ADULT_KG
    if age_years >= OLDER_FROM_YEARS:
        return OLDER_CHILD_KG
    usual = 2 * (age_years + 4)
    return usual * CHILD_SHARES[0], usual * CHILD_SHARES[1]


def _age(age_years: float) -> str:
    if age_years < 1:
        return f"{age_years * DAYS_PER_YEAR:.0f} days"
    return f"{age_years:.0f} years"
