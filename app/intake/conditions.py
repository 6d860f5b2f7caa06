"""Conditions as people write them: which are present, which are denied, which are not read."""

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Final

from app.intake.bedside.measures import read_measures
from app.intake.bedside.operations import is_recent_operation, names_operation
from app.intake.vocabulary import Hit, Vocabulary, fold, plain_words, words_of
from app.patient.snapshot import Words

# Where one statement ends and the next begins.
STATEMENTS: Final = re.compile(r"[;,\n]|\.\s+|\.$|\s[/+]\s|•")
# Words that end the reach of a "no" or a "previous".
TURNS: Final = frozenset(["and", "but", "with", "plus", "due", "secondary", "on", "following"])
SHARED_ORGAN: Final = re.compile(
    r"\b(kidney|renal|liver|hepatic|heart|cardiac)\s*(?:or|nor|and|/)\s*"
    r"(kidney|renal|liver|hepatic|heart|cardiac) "
    r"(disease|impairment|failure|problems|dysfunction)\b"
)
GLUED_STAGE: Final = re.compile(r"\b(aki|ckd|egfr|gfr|stage|kdigo|pod)(?=\d)")
DENIED: Final = re.compile(
    r"\b(?:no|not|without|denies|denied|nil|never|absence of|absent|negative for"
    r"|ruled out|rules out|excluded|unlikely|none|free of|nor)\b"
)
DENIED_AFTER: Final = re.compile(
    r"^(?:was |has been |now )?(?:= )?(?:no|nil|none|free|absent|negative|ruled out|excluded"
    r"|unlikely|not present|denied|not known)\b"
)
# "2 h ago" or "5 days ago" is a present injury, "2 weeks ago" is over.
OVER: Final = re.compile(
    r"\b(?:resolved|recovered|in remission|settled|previously|long ago"
    r"|(?:weeks?|wks?|months?|mths?|years?|yrs?|(?:[89]|\d\d+) days?) ago)\b"
)
PAST: Final = re.compile(
    r"\b(?:history|h / o|hx|previous|previously|past|prior|old|recovered|resolved)\b"
)
OTHERS: Final = re.compile(
    r"\b(?:family history|family hx|fhx|fh|mother|father|brother|sister|risk|allergy|allergic"
    r"|screen|screening|vaccine|vaccination|vaccinated|exclude)\b"
)
STAGE: Final = re.compile(
    r"\b(?:stage|kdigo|grade|class|aki|ckd|g|disease|injury)\s*g?([1-5]|iii|iv|v)\s?[abd]?\b"
)
ROMAN: Final = {"iii": 3, "iv": 4, "v": 5}
EGFR: Final = re.compile(r"\be?gfr\D{0,12}?(\d+(?:\.\d+)?)")
PERCENT: Final = re.compile(r"(\d+(?:\.\d+)?) %")
DAYS_AFTER: Final = re.compile(r"\b(?:pod|day|days)\s*(\d+)|(\d+)\s*days?\b")
LONG_AFTER: Final = re.compile(r"\b(?:week|weeks|month|months|year|years)\b")
SEVERE_STAGE: Final = {"acute_kidney_injury": 3, "chronic_kidney_disease": 4}
EGFR_SEVERE_BELOW: Final = 30.0
EGFR_DISEASE_BELOW: Final = 60.0
# Adults from 15% of body surface need a fluid plan (common practice, no source).
MAJOR_BURN_PERCENT: Final = 15.0
POSTOPERATIVE_DAYS: Final = 3


@dataclass(slots=True)
class _Heard:
    found: dict[str, str] = field(default_factory=dict)
    denied: set[str] = field(default_factory=set)
    unread: list[str] = field(default_factory=list)


def read_conditions(texts: Iterable[str], vocabulary: Vocabulary) -> Words:
    """Every statement of the problem list; what is both stated and denied counts as stated."""
    key = tuple(texts)
    return vocabulary.keep("conditions", key, lambda: _read(key, vocabulary))


def _read(texts: tuple[str, ...], vocabulary: Vocabulary) -> Words:
    heard = _Heard()
    for text in texts:
        for statement in STATEMENTS.split(_plain(text)):
            _hear_statement(statement, text, vocabulary, heard)
    return Words(
        frozenset(heard.found),
        frozenset(_with_children(heard.denied, vocabulary.parents) - heard.found.keys()),
        tuple(heard.unread),
        MappingProxyType(heard.found),
    )


def _hear_statement(statement: str, written: str, vocabulary: Vocabulary, heard: _Heard) -> None:
    rest, keys = read_measures(statement)
    words = plain_words(words_of(rest))
    if not (OTHERS.search(statement) or DENIED.search(statement)):
        for key in keys:
            heard.found.setdefault(key, written)
    if is_recent_operation(" ".join(words)):
        heard.found.setdefault("postoperative", written)
    _hear(words, written, vocabulary, heard)


def _plain(text: str) -> str:
    return GLUED_STAGE.sub(r"\1 ", SHARED_ORGAN.sub(r"\1 \3 or \2 \3", fold(text)))


def _hear(words: tuple[str, ...], written: str, vocabulary: Vocabulary, heard: _Heard) -> None:
    hits = tuple(vocabulary.conditions.hits(words))
    for start, end in _spans(words, hits):
        inside = [hit for hit in hits if start <= hit.start < end]
        if not inside:
            _hear_unknown(words[start:end], written, vocabulary, heard)
        for number, hit in enumerate(inside):
            from_word = inside[number - 1].end if number else start
            until = inside[number + 1].start if number + 1 < len(inside) else end
            before = " ".join(words[start : hit.start])
            _hear_hit(
                hit.meaning.key,
                _Around(before, words[from_word : hit.start], words[hit.start : hit.end],
                        words[hit.end : until], " ".join(words[: hit.start])),
                written, vocabulary, heard,
            )  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Around:
    """The words round a phrase: all before it in its reach, just before, itself, just after."""

    reach: str
    just_before: tuple[str, ...]
    itself: tuple[str, ...]
    after: tuple[str, ...]
    whole_before: str

    @property
    def near(self) -> str:
        """The phrase with the words that stand next to it."""
        return " ".join((*self.just_before, *self.itself, *self.after))


def _spans(words: tuple[str, ...], hits: tuple[Hit, ...]) -> Iterator[tuple[int, int]]:
    """Stretches of words between turns ("but", "with") that stand in no known phrase."""
    inside = {at for hit in hits for at in range(hit.start, hit.end)}
    start = 0
    for at, word in enumerate(words):
        if word in TURNS and at not in inside:
            if at > start:
                yield start, at
            start = at + 1
    if start < len(words):
        yield start, len(words)


def _hear_unknown(
    words: tuple[str, ...], written: str, vocabulary: Vocabulary, heard: _Heard
) -> None:
    text = " ".join(words)
    egfr = EGFR.search(text)
    if egfr:
        _hear_egfr(float(egfr[1]), text, written, heard)
    elif names_operation(text):
        return
    elif not all(word in vocabulary.fillers or word[0].isdigit() for word in words):
        heard.unread.append(text)


def _hear_egfr(egfr: float, text: str, written: str, heard: _Heard) -> None:
    if ">" in text or egfr >= EGFR_DISEASE_BELOW:
        return
    heard.found.setdefault("kidney_disease", written)
    if egfr < EGFR_SEVERE_BELOW:
        heard.found.setdefault("severe_kidney_failure", written)


def _hear_hit(
    key: str, around: _Around, written: str, vocabulary: Vocabulary, heard: _Heard
) -> None:
    entry = vocabulary.tables["conditions"]["condition"][key]
    after = " ".join(around.after)
    if OTHERS.search(around.whole_before):
        return
    if DENIED.search(around.reach) or DENIED_AFTER.search(after):
        heard.denied.add(key)
        return
    if entry.get("acute") and _is_over(key, around, after):
        return
    for found in (key, *entry.get("also", ()), *_graded(key, around.near)):
        heard.found.setdefault(found, written)
    egfr = EGFR.search(after)
    if egfr:
        _hear_egfr(float(egfr[1]), after, written, heard)


def _is_over(key: str, around: _Around, after: str) -> bool:
    if PAST.search(around.reach) or OVER.search(after):
        return True
    return key == "postoperative" and not _within_72_h(around.near)


def _within_72_h(text: str) -> bool:
    match = DAYS_AFTER.search(text)
    if match:
        return int(match[1] or match[2]) <= POSTOPERATIVE_DAYS
    return not LONG_AFTER.search(text)


def _graded(key: str, text: str) -> Iterator[str]:
    """Keys that follow from a stage, a percent or a grade written beside the condition."""
    if key in SEVERE_STAGE:
        stage = STAGE.search(text)
        grade = ROMAN.get(stage[1]) or int(stage[1]) if stage else 0
        if grade >= SEVERE_STAGE[key] or "severe" in text or "end stage" in text:
            yield "severe_kidney_failure"
    if key == "burns":
        percent = PERCENT.search(text)
        if percent and float(percent[1]) >= MAJOR_BURN_PERCENT:
            yield "major_burns"
    if key in ("hyponatraemia", "hypernatraemia"):
        yield from (f"{when}_{key}" for when in ("acute", "chronic") if when in text.split())
    if key == "hyponatraemia" and ("seizure" in text or "coma" in text):
        yield "severe_hyponatraemia_symptoms"


def _with_children(denied: set[str], parents: Mapping[str, frozenset[str]]) -> set[str]:
    """Denying any kidney disease denies each kind of it."""
    return denied | {key for key, above in parents.items() if above & denied}
