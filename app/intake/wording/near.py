"""A word that nothing knows, and the one known word it is a slip of."""

from collections.abc import Iterable, Iterator
from itertools import product
from typing import Final

from rapidfuzz.distance import OSA

from app.intake.vocabulary import Phrases, Vocabulary, fold, words_of

SHORTEST: Final = 5
# One slip in a short word, two in a long one.
LONG: Final = 8
MOST_WORDS: Final = 3
MOST_WAYS: Final = 6


def nearest(text: str, vocabulary: Vocabulary) -> Iterator[str]:
    """The text with its unknown words put right, in each way that is as near as any.

    Nothing where a word is near none, where no word is unknown, or where too many are: such a
    text is asked about. Several ways mean the same only if they read the same: see the caller.
    """
    known = _known(vocabulary)
    strange = [w for w in dict.fromkeys(words_of(text)) if w.isalpha() and w not in known]
    strange = [w for w in strange if len(w) >= SHORTEST]
    if not strange or len(strange) > MOST_WORDS:
        return
    ways = [tuple(_near(word, known)) for word in strange]
    for chosen in list(product(*ways))[:MOST_WAYS]:
        put_right = dict(zip(strange, chosen, strict=True))
        yield " ".join(put_right.get(word, word) for word in words_of(text))


def _near(word: str, known: Iterable[str]) -> Iterator[str]:
    """Known words at the least distance, counting a swap of neighbours as one slip."""
    slips = 1 if len(word) < LONG else 2
    at = [(OSA.distance(word, other, score_cutoff=slips), other) for other in known]
    least = min(at)[0] if at else slips + 1
    if least <= slips:
        yield from sorted(near for slip, near in at if slip == least and _alike(word, near))


def _alike(word: str, near: str) -> bool:
    """A slip seldom falls on the first letter, unless it is a swap."""
    return word[0] == near[0] or sorted(word[:2]) == sorted(near[:2])


def _known(vocabulary: Vocabulary) -> frozenset[str]:
    return vocabulary.keep("known words", "", lambda: frozenset(_words(vocabulary)))


def _words(vocabulary: Vocabulary) -> Iterator[str]:
    lists: tuple[Phrases, ...] = (vocabulary.fluids, vocabulary.drugs)
    for phrases in lists:
        for spelling in phrases.spellings:
            yield from (word for word in words_of(spelling) if word.isalpha())
    yield from (fold(word) for word in vocabulary.fluid_fillers)
