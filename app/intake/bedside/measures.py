"""A figure in a problem list that says something by itself: pressure, ejection, a drain."""

import re
from collections.abc import Callable, Mapping
from typing import Final

# Treated from here on in most units, mmHg (common practice, no source).
PRESSURE_HIGH_MMHG: Final = 20.0
EJECTION_LOW_PERCENT: Final = 40.0
# Risk of refeeding by itself under 16 kg/m2 (NICE CG32, from memory).
MASS_INDEX_LOW: Final = 18.5
MASS_INDEX_VERY_LOW: Final = 16.0
MASS_INDEX_HIGH: Final = 35.0
MEASURE: Final = re.compile(
    r"\b(icp|intracranial pressure|lvef|ef|ejection fraction|bmi|sbp|systolic(?: bp)?|map|bp|gcs"
    r"|cpp|spo2|sats|saturations?|hr|heart rate|pulse|rr|resp(?:iratory)? rate|temp|crt|cfs|nihss)"
    r"\s*(?:of|=|:|is|was|now|at|about|around|<|>|under|over|above|below)?\s*"
    r"(\d+(?:\.\d+)?)(?:\s*/\s*\d+)?(?:\s*(?:-|to)\s*\d+)?\s*(?:mm\s?hg|cm\s?h2o|%|kg/m2|bpm"
    r"|c\b|/15)?"
)
# A stoma or fistula that needs replacing, mL a day (common practice, no source).
STOMA_HIGH_ML: Final = 1000.0
ML_PER_L: Final = 1000.0
CHILD_C: Final = 10
VOLUME: Final = r"(\d+(?:,\d{3})*(?:\.\d+)?) ?(ml|mls|cc|l|litres?|liters?)\b"
DRAINING: Final = (
    r"(?:output|out|o ?/ ?p|loss(?:es)?|lost|aspirat\w*|drain\w*|suction|returns?|bag)"
)
GASTRIC: Final = re.compile(
    r"\b(?:ngt?|nasogastric|ryles?|orogastric|gastric)(?: tube)?\b"
    r"(?![^.;,]{0,30}\b(?:feed\w*|fed|meds|water|minimal|nil|none|scant|small|low|stopped)\b)"
    rf"[^.;,]{{0,25}}?(?:\b{DRAINING}\b(?:[^.;,]{{0,20}}?{VOLUME})?|\bfree drainage\b|{VOLUME})"
    r"(?: ?(?:/|per|a|in|over|last|the|past)(?![a-z]))* ?(?:\d+ ?)?(?:h|hrs?|hours?|days?|d|24)?\b"
)
FROM_STOMACH: Final = re.compile(
    rf"{VOLUME}(?: ?(?:/|per|a|in|over) ?(?:\d+ ?)?(?:h|hrs?|hours?|days?|d))?"
    r" (?:out |up |back )?(?:from|via|by|through|out of|down)(?: the| his| her)? "
    r"(?:ngt?|nasogastric|ryles?)(?: tube)?\b(?! feed)"
)
STOMA: Final = re.compile(
    r"\b(?:stoma|ileostomy|jejunostomy|fistula|biliary drain|bile drain)\b[^.;,]{0,25}?"
    rf"{VOLUME}(?: ?(?:/|per|a|in|over) ?)?(?:\d+ ?)?(?:h|hrs?|hours?|days?|d)?\b"
)
# Little food for longer risks refeeding (NICE CG32, from memory), days.
FASTED_DAYS: Final = 5
DAYS_PER_WEEK: Final = 7
FASTED: Final = re.compile(
    r"\b(?:no|not|nothing|nil|little|minimal|negligible|barely|hardly)\b[^.;,]{0,25}?"
    r"(?:\b(?:intake|food|eaten|eating|eat|nutrition|feeds?)\b[^.;,\d]{0,10}|(?<=nothing) for )"
    r"(\d+)\s*(days?|d\b|/ ?7|weeks?|/ ?52)"
)
# More than a birth or an operation usually costs, mL (common practice, no source).
BLED_ML: Final = 1000.0
BLED: Final = re.compile(
    rf"\b(?:ebl|blood loss|bled|estimated blood loss|qbl)\b[^.;,\d]{{0,12}}{VOLUME}"
)
CHILD_PUGH: Final = re.compile(
    r"\b(?:child(?:s)?[ -]?(?:turcotte)?[ -]?pugh|cpt|ctp|childs|cp(?=[ -]?[abc]))\s*"
    r"(?:class|score|grade)?\s*(?:of|=|:)?\s*[-(]?\s*[abc]?\s*\(?(1[0-5]|[5-9])\b"
    r"(?! ?(?:years?|yrs?|kg|months?))"
)
REFLEXES: Final = re.compile(
    r"\b(?:knee jerks?|kjs?|(?:patellar|deep tendon|tendon)? ?(?:reflex(?:es)?|jerks?)|dtrs?)"
    r"\s*(?:=|:|are|is)?\s*(?:([0-4])(?: ?\++| ?/ ?4|\b(?! ?(?:h|hours?)\b))|(\+{1,4}))"
)
DRINK: Final = (
    r"(?:vodka|wine|beer|cider|lager|spirits?|whiske?y|gin|rum|alcohol|etoh|sherry|liquor|arrack)"
)
# What no one drinks in a day without harm; 50 units (400 g) a week (UK guidance, from memory).
HEAVY_UNITS_A_WEEK: Final = 50
DRINKS: Final = re.compile(
    rf"\b(?:drinks?|drinking|takes|consumes)\b[^.;,]{{0,25}}\b{DRINK}\b[^.;,]{{0,12}}"
    r"\b(?:daily|a day|per day|day)\b"
)
UNITS_A_WEEK: Final = re.compile(
    r"(?:\b(?:etoh|alcohol)\b[^.;,\d]{0,12})?\b(\d{1,3}) ?(?:u|units?)(?: of alcohol)? ?(?:/"
    r"|per|a|every) ?(?:week|wk)\b"
)
REFLEX_GRADES: Final = ("lost_reflexes", "weak_reflexes", "reflexes_present")
Says = Callable[[float], tuple[str, ...]]
Tells = Callable[[re.Match[str]], tuple[str, ...]]


def _pressure(icp_mmhg: float) -> tuple[str, ...]:
    high = icp_mmhg >= PRESSURE_HIGH_MMHG
    return ("raised_intracranial_pressure", "brain_injury") if high else ()


def _ejection(percent: float) -> tuple[str, ...]:
    return ("heart_failure",) if 1 < percent < EJECTION_LOW_PERCENT else ()


def _mass_index(bmi: float) -> tuple[str, ...]:
    if bmi < MASS_INDEX_VERY_LOW:
        return ("malnutrition", "refeeding_risk")
    if bmi < MASS_INDEX_LOW:
        return ("malnutrition",)
    return ("obesity",) if bmi >= MASS_INDEX_HIGH else ()


SAYS: Final[Mapping[str, Says]] = {
    "icp": _pressure, "intracranial pressure": _pressure, "lvef": _ejection, "ef": _ejection,
    "ejection fraction": _ejection, "bmi": _mass_index,
}  # fmt: skip


def _gastric(_: re.Match[str]) -> tuple[str, ...]:
    return ("gastric_losses",)


def _bled(match: re.Match[str]) -> tuple[str, ...]:
    return ("haemorrhage",) if _ml(match) >= BLED_ML else ()


def _ml(match: re.Match[str]) -> float:
    litres = match[2].startswith("l")
    return float(match[1].replace(",", "")) * (ML_PER_L if litres else 1.0)


def _stoma(match: re.Match[str]) -> tuple[str, ...]:
    return ("bicarbonate_loss",) if _ml(match) >= STOMA_HIGH_ML else ()


def _child_pugh(match: re.Match[str]) -> tuple[str, ...]:
    severe = int(match[1]) >= CHILD_C
    return ("severe_liver_failure", "liver_disease") if severe else ("cirrhosis", "liver_disease")


def _reflexes(match: re.Match[str]) -> tuple[str, ...]:
    grade = int(match[1]) if match[1] else len(match[2])
    return (REFLEX_GRADES[min(grade, len(REFLEX_GRADES) - 1)],)


def _drinks(_: re.Match[str]) -> tuple[str, ...]:
    return ("alcohol_dependence",)


def _units(match: re.Match[str]) -> tuple[str, ...]:
    return ("alcohol_dependence",) if int(match[1]) >= HEAVY_UNITS_A_WEEK else ()


TELLS: Final[tuple[tuple[re.Pattern[str], Tells], ...]] = (
    (GASTRIC, _gastric), (FROM_STOMACH, _gastric), (STOMA, _stoma), (BLED, _bled),
    (CHILD_PUGH, _child_pugh), (REFLEXES, _reflexes), (DRINKS, _drinks), (UNITS_A_WEEK, _units),
)  # fmt: skip


def read_measures(text: str) -> tuple[str, frozenset[str]]:
    """The text without the measures known, and the condition keys that they say.

    text: folded. Pressures and rates whose meaning hangs on the age say nothing here.
    """
    keys: set[str] = set()
    for pattern, tells in TELLS:
        for match in pattern.finditer(text):
            keys.update(tells(match))
        # What a stoma drains is a figure; which stoma it is, the words still say.
        text = text if pattern is STOMA else pattern.sub(" ", text)
    for match in MEASURE.finditer(text):
        says = SAYS.get(match[1])
        keys.update(says(float(match[2])) if says else ())
    return MEASURE.sub(" ", text), frozenset(keys)


def read_fasting(text: str) -> tuple[str, frozenset[str]]:
    """The text without how long nothing was eaten, and the risk that follows. text: folded.

    Its "no" and "not" deny no condition.
    """
    match = FASTED.search(text)
    if match is None:
        return text, frozenset()
    weeks = match[2].startswith("w") or match[2].endswith("52")
    days = int(match[1]) * (DAYS_PER_WEEK if weeks else 1)
    risk = frozenset({"refeeding_risk"} if days >= FASTED_DAYS else ())
    return FASTED.sub(" ", text), risk
