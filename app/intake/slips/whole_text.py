"""A text with each word that nothing knows put right, in every way that is as near as any."""

from collections.abc import Iterator
from itertools import product
from typing import Final

from app.intake.slips.near import Choices, words_in
from app.intake.vocabulary import Vocabulary, fold, words_of

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
    strange = [w for w in dict.fromkeys(words_of(text)) if w.isalpha() and w not in known.words]
    strange = [w for w in strange if len(w) >= SHORTEST]
    if not strange or len(strange) > MOST_WORDS:
        return
    ways = [_near(word, known) for word in strange]
    for chosen in list(product(*ways))[:MOST_WAYS]:
        put_right = dict(zip(strange, chosen, strict=True))
        yield " ".join(put_right.get(word, word) for word in words_of(text))


def _near(word: str, known: Choices) -> tuple[str, ...]:
    slips = 1 if len(word) < LONG else 2
    return tuple(near for near in known.closest(word, slips) if _alike(word, near))


def _alike(word: str, near: str) -> bool:
    """A slip seldom falls on the first letter, unless it is a swap."""
    return word[0] == near[0] or sorted(word[:2]) == sorted(near[:2])


def _known(vocabulary: Vocabulary) -> Choices:
    return vocabulary.keep("words of fluids", "", lambda: _words(vocabulary))


def _words(vocabulary: Vocabulary) -> Choices:
    of_names = words_in(vocabulary.fluids, vocabulary.drugs)
    fillers = (fold(word) for word in vocabulary.fluid_fillers)
    return Choices((*filter(str.isalpha, of_names), *fillers))
