"""Which result a name or a code means."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

from app.chemistry.clinical_units import to_project_unit
from app.chemistry.errors import UnitError
from app.intake.slips.near import Choices
from app.intake.slips.phrases import near_words
from app.intake.vocabulary import Meaning, Phrases, Vocabulary, fold, plain_words, words_of

NITROGEN: Final = "urea_nitrogen"
# A code and a name that differ so mean the same sample, and the code says which of the two.
SAME_SAMPLE: Final = (frozenset({"bicarbonate", "total_co2"}),)
# "B.U.N."
INITIALS: Final = re.compile(r"\b(?:[a-z]\.){2,}")
BRACKET: Final = re.compile(r"\([^)]*\)")
# In a bracket these make it another result; anything else there is how or when it was measured.
OTHER_SAMPLE: Final = frozenset(
    ["urine", "urinary", "csf", "fluid", "drain", "stool", "target", "goal", "aim", "donor", "cord",
     "maternal", "mother", "dialysate", "ascitic", "pleural", "peritoneal", "predicted",
     "ionised", "ionized", "total", "corrected", "adjusted", "corr", "adj", "free",
     "ratio", "gastric", "sweat"]
)  # fmt: skip
SIGNS: Final = frozenset("/:+.")


@dataclass(frozen=True, slots=True)
class Analyte:
    """Which result it is, and how its figure is to be read.

    entry: the vocabulary's row. factors_of: whose unit factors apply. flip: the figure has the
    other sign. hydrogen: it is pH told as hydrogen ions, nmol/L. code: the LOINC row.
    """

    key: str
    entry: Mapping[str, Any]
    factors_of: str
    flip: bool = False
    hydrogen: bool = False
    code: Mapping[str, Any] | None = None

    @property
    def unit(self) -> str:
        """The project's unit."""
        return str(self.entry["unit"])


@dataclass(frozen=True, slots=True)
class Unclear:
    """A name that means no result, or not one: what to ask, and what would settle it."""

    ask: str
    entry: Mapping[str, Any] | None = None


def analyte_of(name: str, loinc: str, vocabulary: Vocabulary) -> Analyte | Unclear:
    """The result a name or its code means; the code wins unless the two contradict each other."""
    code = vocabulary.loinc.get(loinc)
    table = vocabulary.tables["observations"]["analyte"]
    phrase, meaning = _meaning(name, vocabulary) if name else ("", None)
    if code and code["name"] in table:
        key = str(code["name"])
        if meaning and "ask" not in meaning.data and not _agree(key, meaning.key):
            return Unclear(f"The name says {meaning.key} and the code {key}: which is it?")
        nitrogen = code.get("measures") == "urea nitrogen"
        return Analyte(key, table[key], NITROGEN if nitrogen else key, code=code)
    if meaning is None:
        return Unclear("Which result is this? It was not used.")
    if "ask" in meaning.data:
        return Unclear(str(meaning.data["ask"]), meaning.data)
    return _named(phrase, meaning)


def settled(unclear: Unclear, number: float, unit: str, vocabulary: Vocabulary) -> Analyte | None:
    """The result an unclear name means, where the unit or the figure leaves only one.

    `by_unit`: the unit decides; `from`: at this figure and above it can only be that one, in the
    project's unit ("Ca 9.2 mg/dL" is no ionised calcium).
    """
    table = vocabulary.tables["observations"]["analyte"]
    entry = unclear.entry or {}
    key = str(entry.get("by_unit", {}).get(unit, ""))
    for name, least in entry.get("from", {}).items():
        try:
            key = name if unit and to_project_unit(name, number, unit) >= least else key
        except UnitError:
            return None
    return Analyte(key, table[key], key) if key else None


def _agree(one: str, other: str) -> bool:
    return one == other or any({one, other} <= same for same in SAME_SAMPLE)


def _meaning(name: str, vocabulary: Vocabulary) -> tuple[str, Meaning | None]:
    """A name's meaning and the phrase it was known by: as written, bare, or without its slip."""
    names, table = vocabulary.analytes, vocabulary.tables["observations"]
    plain = INITIALS.sub(lambda match: match[0].replace(".", ""), fold(name).replace("_", " "))
    without = BRACKET.sub(" ", plain)
    if without != plain and OTHER_SAMPLE.isdisjoint(words_of(plain)):
        whole = names.get(plain)
        words = plain_words(words_of(plain))
        return (" ".join(words), whole) if whole else _meaning(without, vocabulary)
    words = tuple(w for w in plain_words(words_of(plain)) if not w[0].isdigit())
    aside = frozenset(table["qualifiers"])
    bare = tuple(word for word in words if word not in aside)
    unsigned = tuple(word for word in bare if word not in SIGNS)
    for phrase in (" ".join(each) for each in (words, bare, unsigned) if each):
        meaning = names.get(phrase)
        if meaning:
            return phrase, meaning
    choices = vocabulary.keep("words of results", "", lambda: Choices(names.words))
    mended = _mended(unsigned, names, choices, frozenset(table["others"]))
    return mended, names.get(mended) if mended else None


def _mended(
    words: tuple[str, ...], names: Phrases, choices: Choices, others: frozenset[str]
) -> str:
    """The words with one slip mended, where they then are a name, and only one; else ""."""
    found: dict[str, str] = {}
    for at, word in enumerate(words):
        if word in choices.words or word in others:
            continue
        for near in near_words(word, choices):
            phrase = " ".join((*words[:at], near, *words[at + 1 :]))
            meaning = names.get(phrase)
            if meaning:
                found.setdefault(meaning.key, phrase)
    return next(iter(found.values())) if len(found) == 1 else ""


def _named(phrase: str, meaning: Meaning) -> Analyte:
    nitrogen = phrase in meaning.data.get("nitrogen", ())
    factors_of = NITROGEN if nitrogen else meaning.key
    flip, hydrogen = (phrase in meaning.data.get(kind, ()) for kind in ("flip", "hydrogen"))
    return Analyte(meaning.key, meaning.data, factors_of, flip, hydrogen)
