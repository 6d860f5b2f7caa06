"""Known words within a slip or two of one written: a letter wrong, missing, spare, or two swapped.

What a slip may be meant for, and how many slips a word bears, each reader says for itself.
"""

from collections.abc import Iterable
from typing import Final

from rapidfuzz import process
from rapidfuzz.distance import OSA

from app.intake.vocabulary import Phrases, Vocabulary

MOST_SHOWN: Final = 12


class Choices:
    """The words that a slip may be meant for, ready to be compared."""

    def __init__(self, words: Iterable[str]) -> None:
        self.words = frozenset(words)
        self._every = tuple(sorted(self.words))
        self._by_letter: dict[str, list[str]] = {}
        for word in self._every:
            self._by_letter.setdefault(word[:1], []).append(word)

    def of_first_letter(self, word: str, slips: int, *, least: int = 0) -> tuple[str, ...]:
        """Words within these slips, the closest first: a slip seldom falls on the first letter.

        least: letters that a word must have.
        """
        same = self._by_letter.get(word[:1], ())
        close = process.extract(
            word, same, scorer=OSA.distance, score_cutoff=slips, limit=MOST_SHOWN
        )
        return tuple(near for near, _, _ in close if len(near) >= least)

    def closest(self, word: str, slips: int) -> tuple[str, ...]:
        """Every word at the least distance, where that is within these slips, by the alphabet."""
        close = process.extract(
            word, self._every, scorer=OSA.distance, score_cutoff=slips, limit=None
        )
        return tuple(near for near, distance, _ in close if distance == close[0][1])


def words_in(*books: Phrases) -> frozenset[str]:
    """The words of every phrase of these books."""
    return frozenset[str]().union(*(book.words for book in books))


def right_words(vocabulary: Vocabulary) -> frozenset[str]:
    """Words that are right as they stand, whatever the text is about."""
    books = (vocabulary.conditions, vocabulary.drugs, vocabulary.fluids, vocabulary.reasons)
    return vocabulary.keep("right words", "", lambda: words_in(*books) | vocabulary.fillers)
