"""What a patient's line plan takes for granted; each is told on its page. Common practice, no
source, unless one is named.
"""

from typing import Final

from app.catalogue.source import NO_SOURCE, Source
from app.lines.blood import DONE_WITHIN_MIN, START_WITHIN_MIN
from app.lines.flush import SETTINGS
from app.review.lines.bedside.doing.flushing import CHILD, NEWBORN, Settings
from app.review.lines.bedside.doing.surge import DOSE_LESS_MIN, DOSE_MIN

PRACTICE: Final = Source(NO_SOURCE)
# A shift, in the steps in which a ward tells the time.
HORIZON_MIN: Final = 720
STEP_MIN: Final = 5
FLUSH_MIN: Final = 5
# Taps on one lumen.
MOST_AT_ONCE: Final = 3
# How far a dose may be given from its time, and blood from now.
DOSE_EARLY_MIN: Final = 60
DOSE_LATE_MIN: Final = 60
BLOOD_WITHIN_MIN: Final = 90
# How long fluids may stand still in a shift: those with added potassium less.
FLUID_PAUSE_MIN: Final = 240
POTASSIUM_PAUSE_MIN: Final = 120
# A bag that ends within the shift may be held for so long.
BAG_HELD_MIN: Final = 120
MINUTES_PER_HOUR: Final = 60


def _flush_ml(settings: Settings) -> str:
    small, central = settings["peripheral"].least_ml, settings["central"].least_ml
    if small == central:
        return f"{small:g} mL"
    return f"{small:g} mL by a small vein, {central:g} mL by a central lumen"


def taken() -> tuple[str, ...]:
    """Each of them as a sentence."""
    hours = HORIZON_MIN // MINUTES_PER_HOUR
    return (
        f"The plan looks {hours} h ahead in steps of {STEP_MIN} min; a flush between two takes "
        f"{FLUSH_MIN} min; at most {MOST_AT_ONCE} are connected to one lumen.",
        f"A dose may be given {DOSE_EARLY_MIN} min before or {DOSE_LATE_MIN} min after its time; "
        "the first is due now, where nobody wrote when.",
        f"A fluid may stand still for {FLUID_PAUSE_MIN // MINUTES_PER_HOUR} h in all, with added "
        f"potassium {POTASSIUM_PAUSE_MIN // MINUTES_PER_HOUR} h; a bag that ends within the plan "
        f"may be held for {BAG_HELD_MIN // MINUTES_PER_HOUR} h.",
        f"A flush is {_flush_ml(SETTINGS)}; in a child {_flush_ml(CHILD)}; in a newborn "
        f"{_flush_ml(NEWBORN)}.",
        f"No dose of {DOSE_MIN:g} min or less goes by the lumen of a vasoactive drug, none of "
        f"{DOSE_LESS_MIN:g} min or less by that of insulin or sedation.",
        "Vasoactive drugs, insulin, nutrition, resuscitation and other drugs that run all the "
        "time are never interrupted.",
        f"Blood starts within {BLOOD_WITHIN_MIN} min. Fetch it for its time: it starts within "
        f"{START_WITHIN_MIN} min of leaving its store and is done within "
        f"{DONE_WITHIN_MIN // MINUTES_PER_HOUR} h.",
        "These are common practice with no source. Local policy wins.",
    )
