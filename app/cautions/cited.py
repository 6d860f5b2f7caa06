"""Sources that several families cite, written once."""

from typing import Final

from app.catalogue.source import NO_SOURCE, Source

PRACTICE: Final = Source(NO_SOURCE)
ADULT_NEEDS: Final = Source(
    "NICE CG174, Intravenous fluid therapy in adults in hospital, 2013, updated 2017",
    "1.4.1, quoted in a journal table",
    seen=True,
)
ADULT_FRAIL: Final = Source(ADULT_NEEDS.work, "1.4.3 and 1.4.4", seen=False)
ADULT_PLAN: Final = Source(ADULT_NEEDS.work, "1.1.5 and 1.2, plan of 24 hours", seen=False)
ADULT_MONITORING: Final = Source(ADULT_NEEDS.work, "1.2, daily reassessment", seen=False)
ADULT_PURPOSE: Final = Source(ADULT_NEEDS.work, "1.1.3, the five purposes", seen=True)
ADULT_STOP: Final = Source(ADULT_NEEDS.work, "1.1.1, stop as soon as possible", seen=True)
ADULT_EXPERT_HELP: Final = Source(ADULT_NEEDS.work, "1.3, expert help after 2000 mL", seen=True)
CHILD_FLUIDS: Final = Source(
    "NICE NG29, Intravenous fluid therapy in children and young people, 2015, updated 2020",
    "1.2 to 1.4",
    seen=False,
)
CHILD_WEIGHT: Final = Source(CHILD_FLUIDS.work, "1.2 and 1.3, summary text", seen=True)
HOLLIDAY_SEGAR: Final = Source("Holliday and Segar, Pediatrics 1957;19:823", "", seen=False)
FLUID_CREEP: Final = Source(
    "Van Regenmortel et al., Intensive Care Med 2018;44:409-17", "abstract", seen=True
)
SEPSIS_2021: Final = Source(
    "Surviving Sepsis Campaign guideline, 2021", "initial resuscitation", seen=False
)
