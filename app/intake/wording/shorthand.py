"""A fluid's name in whole words: what is run together or cut short, written out."""

import re
from functools import lru_cache
from typing import Final

from app.intake.vocabulary import fold

# The share of salt in glucose ("D5 .45"): strengths made, as written without their sign.
SALT: Final = r"0?\.(?:18|2|225|25|3|33|45|9)\b"
WRITTEN_OUT: Final[tuple[tuple[re.Pattern[str], str], ...]] = tuple(
    (re.compile(pattern), whole)
    for pattern, whole in (
        (r"(?<=\d),(?=\d{3}(?!\d))", ""),
        (r"(?<![\d/])1\s?/\s?1\b", "1 l"),
        (r"\b(kcl|nacl|bicarb|k(?=\d\d))(?=\d)", r"\1 "),
        (r"(?<=\d)(?=(?:kcl|nacl|nahco3|k|mgso4|ns|dex|dextrose|glucose)\b)", " "),
        # "D51/2NS", "D5.45NS", "D10-0.2"
        (rf"\bd\s?-?(5|10)\s*-?\s*(?=1\s*/\s*[245]|{SALT})", r"d\1 "),
        (r"\bd\s?(7\.5|12\.5|15|17\.5|25|30|40|70)\s?%?(?:\s?w\b)?(?![\d.])", r" \1 % dextrose "),
        (rf"\bd\s?(2\.5|3\.3|4|4\.3)\s?%?(?=\s*(?:w\b|/|-|ns\b|saline|with|in\b|1\s*/|{SALT}))(?:\s?w\b)?",
         r" \1 % dextrose "),
        (r"\bd[- ](5|10|20|50)[- ]?w\b", r"d\1w"),
        (r"\b(?:g/w|d/w)\b", "dw"),
        # "2 x 100 mL": how many bags is read with the rate.
        (r"\b\d\s*x\s*(?=\d+\s*ml)|\bx\s?\d\b", " "),
        # The sign for "with", and words cut short.
        (r"\bsod\b", "sodium"), (r"\bpot\b", "potassium"), (r"\bcomp\b", "compound"),
        (r"\b(?:chlor|chl|clor)\b|(?<=sodium )cl\b|(?<=potassium )cl\b", "chloride"),
        (r"(?<=sodium )phos\b|(?<=potassium )phos\b", "phosphate"),
        # "Mg 10 mmol" is magnesium, "10 mg" is not.
        (r"(?<=mmol of )mg\b|(?<=mmol )mg\b|(?<=meq of )mg\b|(?<=meq )mg\b", "magnesium"),
        (r"\bmg(?=[\s+:=]*\d+(?:\.\d+)?\s*(?:mmol|meq))", "magnesium"),
        (r"\b1\s?/\s?2\s+(?=amp|vial)", "0.5 "),
        (r"\bone (?=(?:gram|g|amp|vial))", "1 "), (r"\btwo (?=(?:gram|g|amp|vial))", "2 "),
        (r"\bthree (?=(?:gram|g|amp|vial))", "3 "), (r"\bfour (?=(?:gram|g|amp|vial))", "4 "),
        (r"\bten (?=(?:mmol|meq|ml|unit))", "10 "), (r"\btwenty (?=(?:mmol|meq|ml|unit))", "20 "),
        (r"\bforty (?=(?:mmol|meq|ml|unit))", "40 "),
        (r"\b(?:hepta|hexa|tri|di|mono)hydrate\b|\b(?:sodium )?succinate\b|\bhydrochloride\b", " "),
        (r"\binternational units?\b", "units"),
        (r"(?<=mmol) each\b(?! of)|(?<=meq) each\b(?! of)|(?<=ml) each\b(?! of)", "/amp"),
        (r"\bin each (?=lit(?:re|er)\b)", "/"), (r"\bsul(?:ph|f)\b", "sulfate"),
        (r"\bsulphate\b", "sulfate"), (r"\bhypert\b", "hypertonic"),
        (r"\b(?:bicarbs?|bic)\b", "bicarb"),
        (r"\bten (?=percent|per cent|%)", "10 "), (r"\bfive (?=percent|per cent|%)", "5 "),
        (r"\bper\s?cent\b", "%"),
    )
)  # fmt: skip


@lru_cache(maxsize=4096)
def written_out(text: str) -> str:
    """A name folded and in whole words: "D51/2NS c 1,000" becomes "d5 1/2ns c 1000"."""
    plain = fold(text)
    for pattern, whole in WRITTEN_OUT:
        plain = pattern.sub(whole, plain)
    return plain
