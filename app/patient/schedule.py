"""How often a drug is given and how much of it, as written."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Schedule:
    """What the words of a drug say of its times and dose; None where they do not.

    doses_per_day: "q8h" is 3, "twice daily" 2, "stat" 1. is_continuous: written to run all day
    ("continuous", a dose by the hour or minute). dose_g: mass of one dose, g. per_kg: that mass is
    for each kilogram.
    """

    doses_per_day: float | None = None
    is_continuous: bool = False
    dose_g: float | None = None
    per_kg: bool = False

    def grams(self, weight_kg: float | None) -> float | None:
        """Mass of one dose in this patient, g; None when not written, or the weight is wanting."""
        if self.dose_g is None or not self.per_kg:
            return self.dose_g
        return None if weight_kg is None else self.dose_g * weight_kg


NO_SCHEDULE = Schedule()
