"""Conditions as people write them: which are present, which are denied, which are not read."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from types import MappingProxyType
from typing import Final

from app.intake.vocabulary import Hit, Vocabulary, fold, plain_words, words_of
from app.patient.snapshot import Words

# Where one statement ends and the next begins.
PARTS: Final = re.compile(
    r"[;,\n.]\s+|[;,\n]|\s[/+&-]\s|\b(?:and|but|with|plus|secondary to|due to|because of|on background of"
    r"|on a background of|complicated by|following|caused by)\b"
)
SHARED_ORGAN: Final = re.compile(
    r"\b(kidney|renal|liver|hepatic|heart|cardiac)\s*(?:or|nor|/)\s*(kidney|renal|liver|hepatic|heart|cardiac)"
    r" (disease|impairment|failure|problems|dysfunction)\b"
)
DENIED: Final = re.compile(
    r"\b(?:no|not|without|denies|denied|nil|never|absence of|absent|negative for|ruled out|rule out"
    r"|excluded|unlikely|none|not present|free of)\b"
)
DENIED_AFTER: Final = re.compile(
    r"^\s*[:(-]?\s*(?:no|nil|none|absent|negative|ruled out|excluded|unlikely|not present|denied)\b"
)
OVER: Final = re.compile(r"\b(?:resolved|recovered|treated|corrected|in remission|settled)\b")
PAST: Final = re.compile(r"\b(?:history of|h/o|hx of|hx|previous|previously|past|prior|old|pmh)\b")
OTHERS: Final = re.compile(
    r"\b(?:family history|fhx?|fh of|mother|father|brother|sister|risk of|at risk for|allergy|allergic"
    r"|screen(?:ing)? for|vaccin\w+|to exclude|query exclude)\b"
)
# Words that say nothing of their own.
FILLERS: Final = frozenset(
    "a an the of to in on for at from by is has was known acute chronic severe mild moderate new"
    " recent current active significant patient pt possible probable suspected likely presumed stage"
    " grade type or nil none no not any evidence history past previous other problems medical"
    " yes left right bilateral old day days week weeks year years ago since".split()
)


@dataclass(slots=True)
class _Heard:
    found: dict[str, str] = field(default_factory=dict)
    denied: dict[str, str] = field(default_factory=dict)
    unread: list[str] = field(default_factory=list)


def read_conditions(texts: Iterable[str], vocabulary: Vocabulary) -> Words:
    """Every statement of the problem list; what is both stated and denied counts as stated."""
    return _read_words(tuple(texts), vocabulary)


@lru_cache(maxsize=2048)
def _read_words(texts: tuple[str, ...], vocabulary: Vocabulary) -> Words:
    heard = _Heard()
    for text in texts:
        for part in _parts(text):
            _hear(part, text, vocabulary, heard)
    return Words(
        frozenset(heard.found),
        frozenset(_with_children(heard.denied, vocabulary)) - frozenset(heard.found),
        tuple(heard.unread),
        MappingProxyType(heard.found),
    )


def _parts(text: str) -> list[str]:
    plain = SHARED_ORGAN.sub(r"\1 \3 or \2 \3", fold(text))
    return [part.strip() for part in PARTS.split(plain) if part.strip(" .")]


def _hear(part: str, written: str, vocabulary: Vocabulary, heard: _Heard) -> None:
    words = plain_words(words_of(part))
    hits = tuple(vocabulary.conditions.hits(words))
    if not hits:
        if not FILLERS.issuperset(words):
            heard.unread.append(part)
        return
    if OTHERS.search(part):
        return
    for hit in hits:
        _hear_hit(hit, words, written, heard)


def _hear_hit(hit: Hit, words: tuple[str, ...], written: str, heard: _Heard) -> None:
    before, after = " ".join(words[: hit.start]), " ".join(words[hit.end :])
    keys = (hit.meaning.key, *hit.meaning.marks)
    if DENIED.search(before) or DENIED_AFTER.search(after):
        heard.denied[hit.meaning.key] = written
        return
    if hit.meaning.data.get("acute") and (OVER.search(before + after) or PAST.search(before)):
        return
    for key in keys:
        heard.found.setdefault(key, written)


def _with_children(denied: Mapping[str, str], vocabulary: Vocabulary) -> set[str]:
    """Denying any kidney disease denies each kind of it."""
    children = {key for key, parents in vocabulary.parents.items() if parents & denied.keys()}
    return children | denied.keys()
