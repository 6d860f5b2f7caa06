"""What exactly is given, as ordered: strength, volume and pace."""

import re
from typing import Final

from app.cautions.phrases import listed, number
from app.cautions.shared.substances import Infusion
from app.patient.order import CoInfusion, Order
from app.web.show import amount

MINUTES_PER_HOUR: Final = 60.0
WHICH: Final = "ask which fluid this is"
# Which line it is written for is what the plan answers.
LINE: Final = re.compile(
    r",?\s*(?:by|on|in|via)?\s*(?:a |its )?(?:separate|own|other|another|same) (?:line|lumen)\b.*$",
    re.IGNORECASE,
)


def given_words(infusion: Infusion) -> str:
    """As ordered: "1,000 mL with 40 mmol potassium chloride, at 150 mL/h"; a drug as written."""
    if isinstance(infusion, CoInfusion):
        written = LINE.sub("", infusion.name).strip()
        plain = infusion.key.replace("_", " ")
        return written[len(plain) :].strip(" ,") if _begins(written, plain) else written
    volume = amount(infusion.volume_ml, "mL", 0) if infusion.volume_ml else ""
    added = listed(tuple(dose.as_written or dose.substance for dose in infusion.additives))
    what = " with ".join(filter(None, (volume, added)))
    doubt = WHICH if is_ambiguous(infusion) else ""
    return ", ".join(filter(None, (doubt, what, pace_words(infusion))))


def _begins(written: str, plain: str) -> bool:
    """Whether the words repeat the drug's plain name first, hyphens apart."""
    return bool(plain) and written.lower().replace("-", " ").startswith(f"{plain.lower()} ")


def pace_words(infusion: Infusion) -> str:
    """ "at 80 mL/h"; a dose by its volume and time; empty where neither is written."""
    rate = infusion.rate_ml_h
    if isinstance(infusion, CoInfusion) and not rate:
        if not infusion.volume_ml or not infusion.duration_min:
            return ""
        rate = infusion.volume_ml / infusion.duration_min * MINUTES_PER_HOUR
    return f"at {number(rate)} mL/h" if rate else ""


def is_ambiguous(infusion: Infusion) -> bool:
    """True for an order whose words may mean several fluids, or none we know."""
    return isinstance(infusion, Order) and (bool(infusion.candidates) or infusion.fluid is None)
