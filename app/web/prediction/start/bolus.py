"""A bolus: what counts as one, and when to look at the patient again. Pure."""

from typing import Final

from app.physiology.course.body import Subject
from app.web.prediction.person import Person

# Given to fill the circulation: at least so much within so long (common practice, no source).
BOLUS_ML_KG: Final = 4.0
BOLUS_MIN: Final = 60.0
LOOK: Final = "Look at the patient again 15 to 30 min after it begins (common practice, no source)."
LEAKY: Final = ("sepsis", "septic_shock", "burns", "major_burns", "shock")
LESS: Final = (
    "Vessels leak in sepsis, burns and shock: less stays in plasma than shown, how much less is "
    "not known."
)


def bolus_ml(volume_ml: float, minutes: float, subject: Subject) -> float:
    """The volume of a bolus, mL; 0 for what is none."""
    is_one = minutes <= BOLUS_MIN and volume_ml >= BOLUS_ML_KG * subject.weight_kg
    return volume_ml if is_one else 0.0


def look_again(subject: Subject, person: Person) -> str:
    """When to look, and what the figures leave out in this patient."""
    leaks = subject.shock or not person.conditions.isdisjoint(LEAKY)
    return f"{LOOK} {LESS}" if leaks else LOOK
