"""Signs and short forms of a problem list written out, so that one grammar reads them all."""

import re
from collections.abc import Mapping
from typing import Any, Final

from app.intake.vocabulary import Vocabulary, fold

SIGNS: Final = str.maketrans(
    {"↑": " high ", "↓": " low ", "⬆": " high ", "⬇": " low ", "#": " fracture "}
)
GLUED_STAGE: Final = re.compile(r"\b(aki|ckd|egfr|gfr|stage|kdigo|pod)(?=\d)")
NEGATIVE: Final = re.compile(r"(?<![\w-])-\s?ve\b")
POSITIVE: Final = re.compile(r"\+\s?ve\b")
WITH: Final = re.compile(r"\bw/\s?(?!o\b|d\b)|\bc̄\b")
WITHOUT: Final = re.compile(r"\bw/o\b")
# A stop that ends a short form ends no sentence.
SHORT_STOP: Final = re.compile(
    r"\b(st|met|est|resp|approx|prev|hx|chr|ac|cong|mod|sev|pulm|poss|prob|susp|h|hist|incl|dept)"
    r"\.(?=\s)"
)
FINE: Final = [
    "nad", "normal", "fine", "ok", "okay", "good", "intact", "unremarkable", "wnl", "sound",
    "healthy",
]  # fmt: skip
ORGAN: Final = (
    r"(?:kidney|renal|liver|hepatic|heart|cardiac|cardiovascular|respiratory|lung|neuro\w*)"
)
NOUN: Final = (
    r"(?:disease|impairment|failure|problems?|dysfunction|history|hx|issues|comorbidit(?:y|ies)|dx"
    r"|conditions?|pathology|complaints?|diagnos[ei]s|disorders?)"
)
# Tendon reflexes by any of their names.
REFLEXES: Final = re.compile(
    r"\b(?:knee |ankle |patell?ar? |deep |tendon |dt |biceps )+(?:jerks?|reflex(?:es)?)"
    r"(?: reflex(?:es)?)?\b|\b(?:dtrs?|kjs?)\b|\breflex\b"
)
SHARED_NOUN: Final = re.compile(
    rf"\b({ORGAN}(?:(?:, ?(?:(?:or|nor|and) )?| (?:or|nor|and) | ?[/&] ?){ORGAN})+) ({NOUN})\b"
)
JOINTS: Final = re.compile(r"\s*(?:,\s*(?:or|nor|and)\b|,|\bor\b|\bnor\b|\band\b|/|&)\s*")
GLUED_NON: Final = re.compile(
    r"\bnon(?=diabetic|anion|oliguric"
    r"|pregnant|septic|cirrhotic|alcoholic)"
)


def written_out(text: str, vocabulary: Vocabulary) -> str:
    """A text folded, with its signs, short forms and organs said to be well written out."""
    plain = fold(text.translate(SIGNS))
    plain = WITHOUT.sub("without", WITH.sub("with ", SHORT_STOP.sub(r"\1", plain)))
    plain = POSITIVE.sub(" positive", NEGATIVE.sub(" negative", plain))
    plain = GLUED_NON.sub("non ", GLUED_STAGE.sub(r"\1 ", plain))
    plain = REFLEXES.sub("reflexes", plain)
    plain = SHARED_NOUN.sub(_each_with_its_noun, plain)
    tables = vocabulary.tables["conditions"]
    longer, organs = vocabulary.keep("short forms", "", lambda: _compiled(tables))
    plain = longer.sub(lambda match: str(tables["short_forms"][match[0]]), plain)
    for key, pattern in organs.items():
        plain = pattern.sub(f" no {tables['well'][key]['means']} ", plain)
    return plain


def _compiled(
    tables: Mapping[str, Any],
) -> tuple[re.Pattern[str], dict[str, re.Pattern[str]]]:
    short = tables["short_forms"]
    longer = re.compile(rf"\b(?:{_any_of(short)})(?![\w/])")
    return longer, {
        key: _well(row["words"], row.get("fine", FINE), row.get("also_fine", []))
        for key, row in tables["well"].items()
    }


def _well(words: list[str], fine_words: list[str], also: list[str]) -> re.Pattern[str]:
    """An organ said to be normal, or a bare "nil renal"."""
    organ = _any_of(words)
    fine = rf"(?:{_any_of([*fine_words, *also])})"
    link = r"\s*(?:=|:|-|is|are|looks?|all|function)?\s*"
    nothing = r"(?:nil|no)(?: (?:known|significant|past|previous|relevant))*"
    if fine_words is not FINE:
        return re.compile(rf"\b(?:{organ}){link}{fine}\b|\b{fine} (?:{organ})\b")
    return re.compile(
        rf"\b(?:{organ}){link}{fine}\b|\b(?<!ab)normal (?:{organ})\b"
        rf"|\b{nothing} (?:{organ})(?: (?:hx|history|problems?|issues?|concerns?))?"
        r"(?=\s*(?:$|[,;.)(]|or\b|and\b))"
    )


def _any_of(words: Mapping[str, Any] | list[str]) -> str:
    return "|".join(re.escape(word) for word in sorted(words, key=len, reverse=True))


def _each_with_its_noun(match: re.Match[str]) -> str:
    # An ampersand joins without ending the reach of a "no", and without meaning either of two.
    return " & ".join(f"{organ} {match[2]}" for organ in JOINTS.split(match[1]))
