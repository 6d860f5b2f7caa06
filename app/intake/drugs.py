"""Drugs, blood components and nutrition by generic name, with the class marks that follow."""

import re
from collections.abc import Iterable
from types import MappingProxyType
from typing import Any, Final, cast

from app.intake.fluids import NameBook
from app.intake.request import Reader
from app.intake.vocabulary import Vocabulary, fold, plain_words, words_of
from app.patient.order import CoInfusion
from app.patient.snapshot import Words

KINDS: Final = {"drug": "drug", "blood": "blood", "nutrition": "nutrition"}

PARTS: Final = re.compile(r"[;,\n]\s*|\s\+\s|\band\b")
NOT_TAKEN: Final = re.compile(
    r"\b(?:no|not|stopped|held|withheld|discontinued|allergy|allergic|avoid|off|never|paused|omitted)\b"
)
DENIED: Final = re.compile(r"\b(?:no|not on|not taking|never|nil)\b")
NO_CALCIUM: Final = re.compile(
    r"\b(?:calcium[- ]free|no calcium|without calcium|no added calcium)\b"
)


def read_medications(texts: Iterable[str], vocabulary: Vocabulary) -> Words:
    """The drug list as keys and class marks; a drug stopped or held is not found."""
    found: dict[str, str] = {}
    denied: set[str] = set()
    unread: list[str] = []
    for text in texts:
        for part in filter(None, (p.strip() for p in PARTS.split(fold(text)))):
            hits = tuple(vocabulary.drugs.hits(plain_words(words_of(part))))
            if not hits:
                unread.append(part)
            elif NOT_TAKEN.search(part):
                denied.update(hit.meaning.key for hit in hits if DENIED.search(part))
            else:
                for hit in hits:
                    for key in (hit.meaning.key, *hit.meaning.marks):
                        found.setdefault(key, text)
    return Words(
        frozenset(found), frozenset(denied - found.keys()), tuple(unread), MappingProxyType(found)
    )


def read_co_infusion(reader: Reader, book: NameBook) -> CoInfusion:
    """One thing that runs beside the fluids."""
    name = reader.text("name") or ""
    kind = reader.choice("kind", KINDS)
    hits = tuple(book.vocabulary.drugs.hits(plain_words(words_of(name))))
    meaning = hits[0].meaning if hits else None
    marks = frozenset().union(*(hit.meaning.marks for hit in hits))
    if NO_CALCIUM.search(fold(name)):
        marks -= {"calcium"}
    inferred = meaning.data.get("kind", "drug") if meaning else "drug"
    co_infusion = CoInfusion(
        name=name,
        kind=cast(Any, kind or inferred),
        key=meaning.key if meaning else "",
        contents=marks,
        lumen=reader.label("lumen"),
    )
    reader.ask_unknown()
    return co_infusion
