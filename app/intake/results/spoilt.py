"""Remarks beside a result that say its sample is not to be relied on."""

import re
from typing import Final

HAEMOLYSED: Final = re.compile(r"h(?:a)?emoly[sz]|\bh(?:a)?em(?:ol)?\b")
NOT_HAEMOLYSED: Final = re.compile(
    r"\b(?:no|not|non|nil|without|un)[- ]?(?:\w+ )?h(?:a)?emoly\w*"
    r"|h(?:a)?emolysis (?:index )?(?:nil|none|0\b|no\b|normal|negative)"
)
SPOILT: Final = re.compile(
    r"clott|drip arm|contaminat|insufficient|diluted|iv arm|infusion arm"
    r"|wrong (?:patient|blood|tube)"
    r"|entered[- ]in[- ]error|cancelled|canceled|unsuitable|not valid|invalid"
    r"|error|above (?:the )?drip|from (?:the )?line running|\bqns\b|spurious|unreliable"
)
OLD: Final = re.compile(r"\bold sample|\baged\b|delayed|late separation|leaked|tourniquet")
# What leaves the red cells, or is held in them.
HARMED: Final = frozenset({"potassium", "phosphate", "magnesium"})


def why_spoilt(name: str, remark: str) -> str:
    """Why a result is not used for what is remarked of its sample; "" when it may be.

    name: the analyte. remark: folded.
    """
    if SPOILT.search(remark) or (name in HARMED and OLD.search(remark)):
        return f"the sample is not reliable ({remark})"
    haemolysed = HAEMOLYSED.search(NOT_HAEMOLYSED.sub(" ", remark))
    return "haemolysed sample, repeat it" if haemolysed and name in HARMED else ""
