"""The words and units of labels, as pharmacopoeial labels print them."""

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal

# What a name means: an ion, a salt or sugar by weight, or one of the label's other figures.
ION_NAMES: Final = {
    "sodium": ("sodium", "na+", "na"), "potassium": ("potassium", "k+", "k"),
    "calcium": ("calcium", "ca2+", "ca++", "ca"), "magnesium": ("magnesium", "mg2+", "mg++"),
    "chloride": ("chloride", "cl-", "cl"), "lactate": ("lactate", "lactate-"),
    "acetate": ("acetate", "acetate-"), "gluconate": ("gluconate", "gluconate-"),
    "malate": ("malate", "malate-", "malate2-"),
    "bicarbonate": ("bicarbonate", "hco3-", "hco3", "hydrogen carbonate"),
    "citrate": ("citrate", "citrate3-"), "sulfate": ("sulfate", "sulphate", "so42-"),
    "phosphate": ("phosphate", "phosphates", "phosphorus", "hpo42-"),
}  # fmt: skip
SALT_NAMES: Final = {
    "sodium_chloride": ("sodium chloride", "nacl"),
    "potassium_chloride": ("potassium chloride", "kcl"),
    "calcium_chloride": ("calcium chloride dihydrate", "calcium chloride", "cacl2.2h2o"),
    "magnesium_chloride": ("magnesium chloride hexahydrate", "magnesium chloride", "mgcl2.6h2o"),
    "magnesium_sulfate": (
        "magnesium sulfate heptahydrate", "magnesium sulphate heptahydrate",
        "magnesium sulfate", "magnesium sulphate",
    ),
    "sodium_lactate": ("sodium lactate",),
    "sodium_acetate": ("sodium acetate trihydrate",),
    "sodium_acetate_anhydrous": ("sodium acetate anhydrous", "anhydrous sodium acetate"),
    "sodium_gluconate": ("sodium gluconate",),
    "sodium_bicarbonate": ("sodium bicarbonate", "sodium hydrogen carbonate", "nahco3"),
    "sodium_citrate": ("trisodium citrate dihydrate", "sodium citrate dihydrate"),
    "calcium_gluconate": ("calcium gluconate monohydrate", "calcium gluconate"),
    "malic_acid": ("malic acid", "l-malic acid"),
    "potassium_dihydrogen_phosphate": (
        "monobasic potassium phosphate", "potassium dihydrogen phosphate",
    ),
}  # fmt: skip
MASS_NAMES: Final = {
    "glucose_monohydrate": (
        "dextrose monohydrate", "glucose monohydrate", "dextrose hydrous", "hydrous dextrose",
        "dextrose", "monohydrated glucose",
    ),
    "glucose": (
        "anhydrous glucose", "glucose anhydrous", "anhydrous dextrose", "dextrose anhydrous",
        "glucose",
    ),
    "mannitol": ("mannitol",),
    "albumin": ("human albumin", "albumin"),
    "gelatin": ("succinylated gelatin", "modified fluid gelatin", "gelatin", "gelatine"),
    "starch": ("hydroxyethyl starch", "starch"),
}  # fmt: skip
OTHER_NAMES: Final = {
    "osmolarity": ("osmolarity", "osmolar concentration"), "osmolality": ("osmolality",),
    "ph": ("ph",), "energy": ("energy", "calories", "caloric value", "calorific value"),
}  # fmt: skip
# Weights that say no amount: the water of crystallisation is left open, or an acid or alkali was
# added until the pH was right. What they bring is not summed.
UNCLEAR_NAMES: Final = {
    "sodium acetate": ("sodium", "acetate"), "sodium citrate": ("sodium", "citrate"),
    "sodium phosphate": ("sodium", "phosphate"), "sodium phosphates": ("sodium", "phosphate"),
    "potassium phosphate": ("potassium", "phosphate"),
    "potassium phosphates": ("potassium", "phosphate"),
    "sodium hydroxide": ("sodium",), "hydrochloric acid": ("chloride",),
}  # fmt: skip

NameKind = Literal["ion", "salt", "mass", "other", "unclear"]
TokenKind = Literal["name", "number", "unit", "basis", "break", "text"]


@dataclass(frozen=True, slots=True)
class Token:
    """One piece of a label. value: a name's key, a unit, a number's digits, a basis in mL.
    A number that is only a bound keeps its sign in front: "≤2".
    """

    kind: TokenKind
    value: str
    text: str
    name_kind: NameKind | None = None


def _names() -> dict[str, tuple[NameKind, str]]:
    named: dict[str, tuple[NameKind, str]] = {}
    tables: tuple[tuple[NameKind, dict[str, tuple[str, ...]]], ...] = (
        ("ion", ION_NAMES), ("salt", SALT_NAMES), ("mass", MASS_NAMES), ("other", OTHER_NAMES),
    )  # fmt: skip
    for kind, table in tables:
        for key, words in table.items():
            named.update(dict.fromkeys(words, (kind, key)))
    named.update({words: ("unclear", words) for words in UNCLEAR_NAMES})
    return named


NAMES: Final = _names()
UNITS: Final = {
    "mmol": r"mmols?|millimoles?", "meq": r"meqs?|mval|milliequivalents?",
    "mosm": r"mosmol(?:es)?|mosmol|mosm", "kcal": r"kcal|calories", "kj": r"kj",
    "g": r"g|grams?", "mg": r"mg", "%": r"%(?:\s*w/v)?",
}  # fmt: skip
ML: Final = r"m[lL]|ml|millilit(?:er|re)s?"
LITRE: Final = r"l|lit(?:er|re)s?"
_by_length = sorted(NAMES, key=len, reverse=True)
_NAME: Final = "|".join(re.escape(name).replace(r"\ ", r"[\s,]+") for name in _by_length)
_UNIT: Final = "|".join(f"(?P<u{place}>{words})" for place, words in enumerate(UNITS.values()))
# Whole: no part of "1.3e2" or "1.2.3" is a number.
_NUMBER: Final = r"\d++(?:\.\d++)?+(?!e\d|\.\d)"
_CONTAINS: Final = "contains?|provides?|contient|contiennent|enthält|enthalten|contiene|bevat"
TOKENS: Final = re.compile(
    rf"(?P<basis>(?:(?:per|each|in|/)\s*(?P<ml>{_NUMBER})?\s*(?P<of>{ML}|{LITRE})"
    rf"|(?P<ml2>{_NUMBER})\s*(?P<of2>{ML}|{LITRE})\s*(?:{_CONTAINS}|:)"
    rf"|[.\s](?P<of3>{ML}|{LITRE})\s*-1)(?![a-z\d]))"
    rf"|(?P<name>(?<![a-z0-9])(?:{_NAME})(?![a-z0-9+]))"
    # A pack's own volume is no figure: "500 mL bag", "water for injections to 1000 mL".
    rf"|(?P<volume>(?<![a-z0-9.]){_NUMBER}\s*(?:{ML}|{LITRE})(?![a-z\d]))"
    rf"|(?P<number>(?<![a-z0-9.])[≤≥]?{_NUMBER})"
    rf"|(?P<unit>(?:{_UNIT})(?![a-z]))"
    r"|(?P<break>[;\n]|\.(?=\s|$))"
    r"|(?P<text>[a-z]+|\S)",
    re.IGNORECASE,
)
ML_PER_L: Final = 1000.0


# "Mg" is magnesium; no label prints milligrams so, unless as "Mg/L".
MAGNESIUM: Final = re.compile(r"(?<![A-Za-z\d.])Mg(?![A-Za-z\d+]|\s*(?:/|per\b))")
# Wordings of one thing, brought to one form: the pattern, and what it becomes.
PLAINLY: Final = tuple(
    (re.compile(pattern), instead)
    for pattern, instead in (
        # A volume's thousands: "1 000 ml", "1'000 ml", "1.000 ml".
        (rf"(?<![\d.,])(\d)[\s'.](\d{{3}})(?=\s*(?:{ML})(?![a-z]))", r"\1\2"),
        # 1,000 mL is a thousand; 1,35 or 0,9 is a decimal comma.
        (r"(?<![\d.])([1-9]\d{0,2}),(\d{3})(?![\d,])", r"\1\2"),
        (r"(?<=\d),(?=\d)", "."),
        (r"(?<=\d)\s*\.{2,3}\s*(?=\d)", " - "),
        (r"between\s+(\d[\d.]*)\s+and\s+(?=\d)", r"\1 to "),
        (r"(\d[\d.]*)\s*≤\s*ph\s*≤\s*(?=\d)", r"ph \1 to "),
        (
            r"(?:not less than|no less than|at least|not below|nlt|(?<!not )(?<!no )more than|>)"
            r"\s*(?=\d)",
            "≥",
        ),
        (r"(?:not more than|no more than|at most|less than|not above|up to|nmt|<)\s*(?=\d)", "≤"),
        (r"(?<=[≤≥])\s+(?=\d)", ""),
    )
)


def plain(text: str) -> str:
    """The label with superscripts, dashes and decimal commas made plain."""
    text = unicodedata.normalize("NFKC", text).replace("−", "-").replace("–", "-")
    text = MAGNESIUM.sub("magnesium", text).casefold()
    text = text.replace("·", ".").replace("•", ".")
    for pattern, instead in PLAINLY:
        text = pattern.sub(instead, text)
    return text


def tokens_of(text: str) -> Iterator[Token]:
    """The pieces of a label in order; what is none of ours is `text`."""
    for found in TOKENS.finditer(plain(text)):
        yield _token(found)


def _token(found: re.Match[str]) -> Token:
    kind, text = found.lastgroup or "text", found.group()
    if found["basis"]:
        return Token("basis", f"{_basis_ml(found):g}", text)
    if found["name"]:
        name_kind, key = NAMES[re.sub(r"[\s,]+", " ", text)]
        return Token("name", key, text, name_kind)
    if found["unit"]:
        place = next(i for i in range(len(UNITS)) if found[f"u{i}"])
        return Token("unit", tuple(UNITS)[place], text)
    if found["number"]:
        return Token("number", text, text)
    return Token("break" if kind == "break" else "text", text, text)


def _basis_ml(found: re.Match[str]) -> float:
    number = found["ml"] or found["ml2"] or "1"
    unit = found["of"] or found["of2"] or found["of3"]
    return float(number) * (1.0 if unit.startswith("m") else ML_PER_L)
