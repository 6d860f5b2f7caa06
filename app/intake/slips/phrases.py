"""Slips of the pen in phrases: mended where one known word is close, else asked about."""

from typing import Final

from app.intake.slips.near import Choices
from app.intake.vocabulary import Phrases

# From how many letters on two may be wrong, missing or swapped, and not one; set by trial.
LONG_WORD: Final = 11
WORD_BY_ITSELF: Final = 6
# Names of results are few, so a shorter one bears two slips.
LONG_NAME: Final = 9
SHORTEST: Final = 4

Words = tuple[str, ...]


def mended(
    words: Words, phrases: Phrases, known: frozenset[str], choices: Choices
) -> tuple[Words, tuple[str, ...]]:
    """The words with slips mended, and those close to words of different meaning.

    known: words that are right as they stand. choices: the words a slip may have been meant for.
    A word is mended only where it then stands in a phrase known, and where every word as close
    gives the same meaning; a short one only in a phrase of several words.
    """
    words = _singular(words, phrases)
    unclear: list[str] = []
    for at, word in enumerate(words):
        if len(word) < SHORTEST or word in known or not word.isalpha():
            continue
        meant = _meant(words, at, phrases, choices)
        if len(meant) == 1:
            words = (*words[:at], next(iter(meant.values())), *words[at + 1 :])
        elif meant:
            unclear.append(f"{word}: {' or '.join(sorted(set(meant.values())))}?")
    return words, tuple(unclear)


def _singular(words: Words, phrases: Phrases) -> Words:
    """The words, a plural outside every phrase as its singular where that makes a phrase."""
    plurals = [at for at, word in enumerate(words) if len(word) > SHORTEST and word.endswith("s")]
    if not plurals:
        return words
    inside = {at for hit in phrases.hits(words) for at in range(hit.start, hit.end)}
    for at in plurals:
        if at not in inside:
            word = words[at]
            one = f"{word[:-3]}y" if word.endswith("ies") else word[:-1]
            if _key_with(words, at, one, phrases):
                words = (*words[:at], one, *words[at + 1 :])
    return words


def _meant(words: Words, at: int, phrases: Phrases, choices: Choices) -> dict[str, str]:
    """What a word may be meant for: the meaning of the phrase it would stand in, to the word."""
    word = words[at]
    for slips in (1, 2):
        meant: dict[str, str] = {}
        least = LONG_WORD if slips > 1 else SHORTEST
        for near in choices.of_first_letter(word, slips, least=least):
            key = _key_with(words, at, near, phrases)
            if key:
                meant.setdefault(key, near)
        if meant:
            return meant
    return {}


def _key_with(words: Words, at: int, near: str, phrases: Phrases) -> str:
    """The meaning the word would have in its place, "" when none."""
    tried = (*words[:at], near, *words[at + 1 :])
    hit = next((h for h in phrases.hits(tried) if h.start <= at < h.end), None)
    if hit is None or (len(words[at]) < WORD_BY_ITSELF and hit.end - hit.start == 1):
        return ""
    return hit.meaning.key


def choices_of(phrases: Phrases) -> Choices:
    """Words of the phrases known that a slip may be meant for."""
    return Choices(w for w in phrases.words if len(w) >= SHORTEST and w.isalpha())


def near_words(word: str, choices: Choices) -> tuple[str, ...]:
    """Words within a slip of this one (two in a long one), the closest alone; never short ones."""
    if len(word) < WORD_BY_ITSELF - 1 or not word.isalpha():
        return ()
    for slips in (1, 2):
        if slips == 1 or len(word) >= LONG_NAME:
            close = choices.of_first_letter(word, slips, least=WORD_BY_ITSELF)
            if close:
                return close
    return ()
