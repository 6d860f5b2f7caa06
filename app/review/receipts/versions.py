"""A version for each thing a review is made with, made from its content."""

import hashlib
import json
from functools import lru_cache
from typing import Final

from app.catalogue.coinfusion import PairFact
from app.intake.vocabulary import Vocabulary
from app.review.knowledge import Knowledge

VERSION_LENGTH: Final = 12


def versions_of(knowledge: Knowledge) -> dict[str, str]:
    """Rules with limits, fluids, word lists, and what is known of pairs in one lumen."""
    return {
        "ruleset": knowledge.ruleset.version,
        "catalogue": knowledge.catalogue.version,
        "vocabulary": _of_words(knowledge.vocabulary),
        "pairs": _of_pairs(knowledge.pairs.facts),
    }


@lru_cache(maxsize=4)
def _of_words(vocabulary: Vocabulary) -> str:
    return _version(json.dumps(vocabulary.tables, sort_keys=True, default=str))


@lru_cache(maxsize=4)
def _of_pairs(facts: tuple[PairFact, ...]) -> str:
    return _version(repr(facts))


def _version(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()[:VERSION_LENGTH]
