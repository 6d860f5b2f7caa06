"""A version for each thing a review is made with, made from its content."""

import hashlib
import json
from functools import lru_cache
from typing import Final

from app.intake.vocabulary import Vocabulary
from app.review.knowledge import Knowledge

VERSION_LENGTH: Final = 12


def versions_of(knowledge: Knowledge) -> dict[str, str]:
    """Rules with limits, fluids, word lists, pairs in one lumen, and what drugs come in."""
    return {
        "ruleset": knowledge.ruleset.version,
        "catalogue": knowledge.catalogue.version,
        "vocabulary": _of_words(knowledge.vocabulary),
        "pairs": _version(repr(knowledge.pairs.facts)),
        "vehicles": _version(repr(knowledge.vehicles)),
    }


@lru_cache(maxsize=4)
def _of_words(vocabulary: Vocabulary) -> str:
    return _version(json.dumps(vocabulary.tables, sort_keys=True, default=str))


def _version(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()[:VERSION_LENGTH]
