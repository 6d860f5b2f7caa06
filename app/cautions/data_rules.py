"""Findings about the data itself: they are made once the other rules have run.

They are rules for the reader (title, trigger, source) and have no check of their own:
app/review/missing/ tries whether an answer would change what to do.
"""

from typing import Final

from app.cautions.cited import PRACTICE
from app.cautions.rule import Rule

DATA_MISSING: Final = Rule(
    id="data-missing",
    title="A result is missing that could change this order",
    trigger="A caution could not be assessed for lack of a value, and at least one plausible "
    "value would make it a critical finding (or a warning, where the fluid's own additive or "
    "strength is judged by that value).",
    unless="the value is known at the bedside and only not in the record",
    do="Get the value before this is given or goes on, or record why it is not needed.",
    evidence="Electrolytes were looked at before one fluid order in ten (Babiker et al., 2023). "
    "Values that could not change the advice are never asked for.",
    sources=(PRACTICE,),
    levels=("warning",),
)
DATA_STALE: Final = Rule(
    id="data-stale",
    title="A result is too old for this order",
    trigger="The newest value is older than the limit for its kind, and a change that is usual "
    "in that time would make a caution loud.",
    unless="a newer result exists and has not reached the record",
    do="Take a new sample before this is given or goes on.",
    evidence="How old a result may be is a local setting with no published source.",
    sources=(PRACTICE,),
    levels=("warning",),
)
DATA_SUSPECT: Final = Rule(
    id="data-suspect",
    title="A value that cannot be right",
    trigger="A value is not physiological, in a unit that does not fit, contradicted, or from a "
    "spoilt sample; warning where an answer would change what to do about this order.",
    unless="the value has been confirmed",
    do="Check the value at its source, or repeat the sample.",
    evidence="A value in doubt is questioned and never used.",
    sources=(PRACTICE,),
    levels=("warning", "info"),
)
ORDER_AMBIGUOUS: Final = Rule(
    id="order-ambiguous",
    title="The order can be read in more than one way",
    trigger="Name, strength, rate, unit, additive or duration can be read in more than one way; "
    "warning where the reading changes what to do.",
    unless="everyone who gives it reads it in the one way that is meant",
    do="Ask the prescriber which is meant before it is hung.",
    evidence="What is ambiguous is asked about and never guessed.",
    sources=(PRACTICE,),
    levels=("warning", "info"),
)
DATA_RULES: Final = (DATA_MISSING, DATA_STALE, DATA_SUSPECT, ORDER_AMBIGUOUS)
