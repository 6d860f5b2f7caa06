"""Find fluids by name, strength, ion, or the lack of an ion."""

import operator
import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Final

from rapidfuzz import fuzz

from app.catalogue.fluid import Fluid
from app.chemistry.errors import UnitError
from app.chemistry.substances import IONS
from app.chemistry.units import mmol_from_meq

# A name that matches less than this is no match; rapidfuzz's scale, 0 to 100, set by trial.
NAME_SCORE_MIN: Final = 62.0
SET_WEIGHT: Final = 0.55
# Each number asked for and not in the name, and each in the name that was not asked for.
WRONG_NUMBER: Final = 30.0
EXTRA_NUMBER: Final = 4.0
# The plasma that equally good answers are ordered by nearness to, mmol/L.
NEAR_MMOL_L: Final = (("sodium", 140.0), ("potassium", 4.0), ("chloride", 103.0))

KIND_ORDER: Final = ("crystalloid", "colloid", "osmotic", "concentrate")
ION_WORDS: Final = {
    **{ion.key: ion.key for ion in IONS},
    **{"na": "sodium", "k": "potassium", "ca": "calcium", "mg": "magnesium", "cl": "chloride"},
    **{"hco3": "bicarbonate"},
}
MASS_WORDS: Final = {
    **{"glucose": "glucose_g_l", "dextrose": "glucose_g_l", "sugar": "glucose_g_l"},
    **{"albumin": "albumin_g_l", "gelatin": "gelatin_g_l", "starch": "starch_g_l"},
    **{"mannitol": "mannitol_g_l"},
}
_WHAT: Final = "|".join(sorted({*ION_WORDS, *MASS_WORDS}, key=len, reverse=True))
_LESS: Final = r"under|below|less than|lower than|at most|up to|<=?|≤"
_MORE: Final = r"over|above|more than|higher than|at least|>=?|≥"
_UNIT: Final = r"(?:\s*(mmol/l|meq/l|mmol|meq|g/l))?"
_LACK: Final = re.compile(
    rf"\b(?:no|without|free of|lacking|lacks|not containing|zero|nor)\s+({_WHAT})\b"
)
_FREE: Final = re.compile(rf"\b({_WHAT})[- ]free\b")
_LIMIT: Final = re.compile(rf"\b({_WHAT})\s+({_LESS}|{_MORE})\s*([\d.]+){_UNIT}")
COMPARES: Final = {
    "under": operator.lt,
    "above": operator.gt,
    "at most": operator.le,
    "at least": operator.ge,
}
# "with calcium" asks for an ion, "with potassium chloride" names a fluid.
_SALT_NAME: Final = r"(?!\s+(?:chloride|gluconate|bicarbonate|sul[fp]h?ate|lactate|acetate))"
_HOLD: Final = re.compile(
    rf"\b(?:contains|containing|contain|holds|has|with|includes)\s+({_WHAT})\b{_SALT_NAME}"
)
_TONICITY: Final = re.compile(r"\b(hypotonic|isotonic|hypertonic)\b")
_KIND: Final = re.compile(r"\b(colloid|concentrate|balanced|buffered)s?\b")
_FILLER: Final = re.compile(
    r"\b(?:and|with|a|an|the|fluid|fluids|solution|bag|that|which|but|or|in|of|injection|"
    r"infusion|for|any|what|crystalloids?)\b|[,;?]"
)
_NUMBER: Final = re.compile(r"\d+(?:\.\d+)?")

Holds = Callable[[Fluid], bool]

# Everyday words for pharmacopoeial ones; a strength that is only a word becomes its figure.
EVERYDAY: Final = (
    (r"\b(?:half[- ]?(?:strength|normal)?) saline\b", "0.45 sodium chloride"),
    (r"\b(?:normal|physiological|isotonic) saline\b", "0.9 sodium chloride"),
    (r"\bsaline\b", "sodium chloride"),
    (r"\bsulphate\b", "sulfate"),
)


@dataclass(frozen=True, slots=True)
class Condition:
    """One thing asked of a fluid, in words, and whether a fluid meets it.

    A fluid whose label does not say (chloride of an albumin) meets no condition on it.
    """

    words: str
    holds: Holds


@dataclass(frozen=True, slots=True)
class Found:
    """One fluid found; score 0 to 100 for its name, 100 when only conditions were asked."""

    fluid: Fluid
    score: float


@dataclass(frozen=True, slots=True)
class Answer:
    """What a question was read as, and the fluids that answer it, best first.

    name: the words left after the conditions, matched with names, search words and ids.
    """

    name: str
    conditions: tuple[Condition, ...]
    found: tuple[Found, ...]


def find(fluids: Iterable[Fluid], question: str) -> Answer:
    """Fluids for a question as people type it.

    "0.45 saline", "no calcium", "potassium under 5", "contains glucose", "balanced without
    calcium". What may be hung comes before what never is, whatever the name; then the best name,
    crystalloids, and nearness to plasma in sodium, potassium and chloride.
    """
    name, conditions = _read(question)
    scored = (
        Found(fluid, _name_score(name, fluid))
        for fluid in fluids
        if all(condition.holds(fluid) for condition in conditions)
    )
    if not name and not conditions:
        return Answer(name, conditions, ())
    kept = (found for found in scored if found.score >= NAME_SCORE_MIN)
    return Answer(name, conditions, tuple(sorted(kept, key=_order)))


def _order(found: Found) -> tuple[bool, float, int, float, str]:
    fluid = found.fluid
    kind = KIND_ORDER.index(fluid.kind)
    return (bool(fluid.never_hung), -round(found.score), kind, _from_plasma(fluid), fluid.id)


def _from_plasma(fluid: Fluid) -> float:
    held = ((fluid.composition.ion_mmol_l(key), near) for key, near in NEAR_MMOL_L)
    return sum(abs((value or 0.0) - near) for value, near in held)


def _read(question: str) -> tuple[str, tuple[Condition, ...]]:
    """The name left over and the conditions, in the order in which they are looked for."""
    rest = " ".join(question.lower().split())
    for everyday, word in EVERYDAY:
        rest = re.sub(everyday, word, rest)
    conditions: list[Condition] = []
    for pattern, meaning in _MEANINGS:
        for match in pattern.finditer(rest):
            conditions.append(meaning(match))
        rest = pattern.sub(" ", rest)
    return " ".join(_FILLER.sub(" ", rest).split()), tuple(conditions)


def _amount(fluid: Fluid, what: str) -> float | None:
    field = MASS_WORDS.get(what) or f"{ION_WORDS[what]}_mmol_l"
    value: float | None = getattr(fluid.composition, field)
    return value


def _lacks(match: re.Match[str]) -> Condition:
    what = match.group(1)
    return Condition(f"no {_full(what)}", lambda fluid: _amount(fluid, what) == 0)


def _has(match: re.Match[str]) -> Condition:
    what = match.group(1)
    return Condition(f"contains {_full(what)}", lambda fluid: (_amount(fluid, what) or 0) > 0)


def _limit(match: re.Match[str]) -> Condition:
    what, relation, number, unit = match.groups()
    limit = float(number)
    if unit and unit.startswith("meq") and what in ION_WORDS:
        limit = _from_meq(ION_WORDS[what], limit)
    word = _relation(relation)
    compares = COMPARES[word]

    def _holds(fluid: Fluid) -> bool:
        value = _amount(fluid, what)
        return value is not None and compares(value, limit)

    return Condition(f"{_full(what)} {word} {limit:g}", _holds)


def _relation(written: str) -> str:
    is_less = re.fullmatch(_LESS, written) is not None
    if written in ("at most", "up to", "at least", "<=", ">=", "≤", "≥"):
        return "at most" if is_less else "at least"
    return "under" if is_less else "above"


def _from_meq(key: str, meq: float) -> float:
    try:
        return mmol_from_meq(key, meq)
    except UnitError:
        # Phosphate has no equivalents: nothing is found rather than something wrong.
        return float("nan")


def _tonicity(match: re.Match[str]) -> Condition:
    wanted = match.group(1)
    return Condition(f"{wanted} in the body", lambda fluid: fluid.tonicity_class == wanted)


def _kind(match: re.Match[str]) -> Condition:
    wanted = match.group(1)
    if wanted in ("colloid", "concentrate"):
        return Condition(wanted, lambda fluid: fluid.kind == wanted)
    return Condition("balanced", lambda fluid: fluid.is_buffered)


def _full(what: str) -> str:
    return ION_WORDS.get(what, what)


_MEANINGS: Final[tuple[tuple[re.Pattern[str], Callable[[re.Match[str]], Condition]], ...]] = (
    (_LIMIT, _limit),
    (_LACK, _lacks),
    (_FREE, _lacks),
    (_HOLD, _has),
    (_TONICITY, _tonicity),
    (_KIND, _kind),
)


def _name_score(name: str, fluid: Fluid) -> float:
    if not name:
        return 100.0
    asked = _plain(name)
    texts = (fluid.name, fluid.id.replace("-", " "), *fluid.search_words)
    return max(_text_score(asked, _plain(text)) for text in texts)


def _plain(text: str) -> str:
    folded = text.lower().replace("’", "'").replace("%", " ")
    return " ".join(re.sub(r"[(),:/]|'s\b|'", " ", folded).split())


def _text_score(asked: str, text: str) -> float:
    shared = fuzz.token_set_ratio(asked, text)
    whole = fuzz.token_sort_ratio(asked, text)
    score = SET_WEIGHT * shared + (1 - SET_WEIGHT) * whole
    asked_numbers = {float(n) for n in _NUMBER.findall(asked)}
    numbers = {float(n) for n in _NUMBER.findall(text)}
    wrong, extra = asked_numbers - numbers, numbers - asked_numbers
    return score - WRONG_NUMBER * len(wrong) - EXTRA_NUMBER * len(extra)
