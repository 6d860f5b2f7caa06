"""A version for each thing a review is made with, made from its content."""

import hashlib
import json
from functools import cache, lru_cache
from pathlib import Path
from typing import Final

from app.intake.vocabulary import Vocabulary
from app.review.knowledge import Knowledge

VERSION_LENGTH: Final = 12
APP: Final = Path(__file__).resolve().parents[2]
# What decides what is found; a page may change and the finding stays the same.
DECIDES: Final = (
    "chemistry", "catalogue", "patient", "physiology", "intake", "cautions", "review",
)  # fmt: skip


def versions_of(knowledge: Knowledge) -> dict[str, str]:
    """Rules with limits, fluids, word lists, pairs in one lumen, what drugs come in, and the
    program text that runs them.
    """
    return {
        "program": program_version(),
        "ruleset": knowledge.ruleset.version,
        "catalogue": knowledge.catalogue.version,
        "vocabulary": _of_words(knowledge.vocabulary),
        "pairs": _version(repr(knowledge.pairs.facts)),
        "vehicles": _version(repr(knowledge.vehicles)),
    }


@cache
def program_version() -> str:
    """Of every source file that decides what is found."""
    files = sorted(path for part in DECIDES for path in (APP / part).rglob("*.py"))
    texts = (f"{path.relative_to(APP).as_posix()}\n{path.read_text('utf-8')}" for path in files)
    return _version("\n".join(texts))


@lru_cache(maxsize=4)
def _of_words(vocabulary: Vocabulary) -> str:
    return _version(json.dumps(vocabulary.tables, sort_keys=True, default=str))


def _version(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()[:VERSION_LENGTH]
