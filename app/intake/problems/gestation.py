"""Weeks of gestation and days of life: of a pregnancy, or of the baby."""

import re
from typing import Final

TERM_WEEKS: Final = 37
VIABLE_WEEKS: Final = 22
NEWBORN_DAYS: Final = 28
WEEKS: Final = re.compile(
    r"\b(\d{1,2})\s?(?:\+\s?[0-6])?\s?(?:/\s?40|[ -]*weekers?\b"
    r"|[ -]?(?:completed )?(?:weeks?|wks?|wk|w)\b(?! ago| post| old)"
    r"(?: gestation| gestational age)?)"
    r"|\b(2[2-9]|3\d|4[0-3])\s?\+\s?[0-6]\b"
)
OF_FORTY: Final = re.compile(r"\b(\d{1,2})\s?(?:\+\s?[0-6])?\s?/\s?40\b")
BORN_EARLY: Final = re.compile(
    r"\b(?:ex|born)\b[ -]*(?:prem\w*|preterm|at \d\d|\d\d)[ -]*(?:weekers?|weeks?)?"
)
GRAVIDA: Final = re.compile(r"\bg(\d+)\s?p(\d+)(?:\s?\+\s?\d+)?\b")
EXPECTING: Final = re.compile(
    r"pregnan|gravid|\biup\b|antenatal|\blabou?r|primip|multip|f(?:o)?et(?:us|al)|\bpet\b"
    r"|pre-? ?eclamp|\bctg\b|oxytocin|\bedd\b|hyperemesis|booking|trimester|\btriplets\b"
    r"|\btwins\b|contract|\bpprom\b|\bsrom\b"
)
BABY: Final = re.compile(
    r"\bborn\b|\bex\b|\bbab(?:y|ies)\b|neonat|newborn|\binfant\b|\bdol\b|\bega\b|\bga\b|weeker"
    r"|corrected|\brds\b|\b\d+ ?h(?:ours?)? old\b|\bnicu\b|\bscbu\b|birth ?weight|\bbw\b|\bprem"
    r"|\bday (?:of life )?\d|\bd\d"
)
DAY: Final = re.compile(r"\b(?:day(?: of life)?|dol|d)\s?(\d{1,3})\b(?! post| of (?!life))")
NEWLY_BORN: Final = re.compile(
    r"\b(?:term |preterm |newborn |neonate )*(?:baby|neonate|newborn|infant|term)\b[ ,]*"
    r"(?:is |now |on )?(?:day(?: of life)?|dol|d)\s?(\d{1,3})\b"
    r"|\b(?:day|dol|d)\s?\d{1,2}(?: of life)?[, ]+(?:term|preterm|baby|neonate|newborn)\b"
)
GROWN: Final = re.compile(
    r"\b(?:now|corrected|cga|aged?)\b[^,;]{0,12}?(?:\d+ ?(?:months?|mths?|m|mo|years?|yrs?|yo?)\b"
    r"|\d+ ?/ ?12\b)|\b\d+[ -]?(?:months?|mths?|years?|yrs?|/ ?12)[ -]old\b|\bas a (?:baby"
    r"|neonate)\b"
)
DELIVERED: Final = re.compile(r"post ?-?(?:partum|natal)|\bdelivered\b|puerper|last delivery")


def read_gestation(text: str) -> tuple[str, frozenset[str]]:
    """The text without weeks and days of life, and the keys they say. text: folded."""
    if BORN_EARLY.search(text) and GROWN.search(text):
        return WEEKS.sub(" ", BORN_EARLY.sub(" ", GROWN.sub(" ", text))), frozenset()
    weeks = [int(m[1] or m[2]) for m in WEEKS.finditer(text)]
    newborn = NEWLY_BORN.search(text)
    if not weeks and not newborn:
        return text, frozenset()
    rest = WEEKS.sub(" ", GRAVIDA.sub(" ", text))
    if weeks and _is_expecting(text):
        return rest, frozenset() if DELIVERED.search(text) else frozenset({"pregnancy"})
    if not newborn and not (BABY.search(text) and max(weeks) >= VIABLE_WEEKS):
        return text, frozenset()
    return DAY.sub(" ", rest), _baby(text, weeks)


def _is_expecting(text: str) -> bool:
    if "born" in text or "weeker" in text or DAY.search(text):
        return False
    early = any(int(m[1]) < VIABLE_WEEKS for m in OF_FORTY.finditer(text))
    return early or bool(EXPECTING.search(text) or GRAVIDA.search(text))


def _baby(text: str, weeks: list[int]) -> frozenset[str]:
    preterm = bool(weeks) and min(weeks) < TERM_WEEKS
    day = DAY.search(text)
    newborn = day is None or int(day[1]) <= NEWBORN_DAYS
    return frozenset({"preterm"} if preterm else ()) | frozenset({"newborn"} if newborn else ())
