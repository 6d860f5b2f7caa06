"""Drug names as they are typed: slips mended, short forms written out, vague names asked about."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, Final

from app.intake.slips.near import Choices, right_words
from app.intake.slips.phrases import choices_of, mended
from app.intake.vocabulary import Hit, Vocabulary, words_of

# "ceftriaxone2g": a number glued to a name long enough to be no formula.
GLUED: Final = re.compile(r"(?<=[a-z]{6})(?=\d)")
NAME: Final = re.compile(r"[a-z]{5,}")
# Letters written for one another by ear.
BY_EAR: Final = (
    ("f", "ph"), ("ph", "f"), ("z", "s"), ("s", "z"), ("k", "c"), ("c", "k"), ("i", "y"),
    ("y", "i"), ("t", "th"), ("th", "t"), ("ks", "x"), ("x", "ks"), ("e", "ae"), ("e", "oe"),
)  # fmt: skip
# "plasma" with a word beside it that nobody knows is the name of some fluid, not the component.
PLASMA: Final = re.compile(r"\bplasma[\s-]+([a-z]{3,})")
EITHER: Final = re.compile(r"\?|\bor\b|\bvs\b")


@dataclass(frozen=True, slots=True)
class Spelling:
    """What the names of drugs are mended by: words that are right, and what a slip may mean."""

    known: frozenset[str]
    choices: Choices
    no_drugs: re.Pattern[str]
    short: tuple[tuple[re.Pattern[str], re.Pattern[str], str], ...]


def _spelling(vocabulary: Vocabulary) -> Spelling:
    tables: Mapping[str, Any] = vocabulary.tables["drugs"]
    known = right_words(vocabulary) | vocabulary.fluid_fillers | set(tables["right_words"])
    phrases = "|".join(sorted(map(re.escape, tables["no_drugs"]), key=len, reverse=True))
    return Spelling(
        known,
        choices_of(vocabulary.drugs),
        re.compile(rf"\b(?:{phrases})\b|\bplatelets? (?:count )?(?:of |= ?|is )?\d{{2,3}}\b"
                   r"(?! ?(?:ml|units?|pools?|u\b))"),
        tuple(
            (re.compile(rf"\b{one['word']}\b"), re.compile(one["beside"]), one["means"])
            for one in tables["short"]
        ),
    )  # fmt: skip


def plain_names(text: str, vocabulary: Vocabulary) -> str:
    """A folded text about drugs with its names as the vocabulary has them.

    What only looks like a drug ("blood cultures") is cut; a short form is written out where the
    words beside it say which is meant ("NA 16 mg"); a slip is mended where one name is close.
    Plasma is the component only where the word after it is one we know.
    """
    return vocabulary.keep(
        "plain names", text, lambda: _component(_plain(text, vocabulary), vocabulary)
    )


def _component(text: str, vocabulary: Vocabulary) -> str:
    known = _spelling_of(vocabulary).known
    return PLASMA.sub(lambda said: said[0] if said[1] in known else said[1], text)


def _spelling_of(vocabulary: Vocabulary) -> Spelling:
    return vocabulary.keep("spelling of drugs", "", lambda: _spelling(vocabulary))


def _plain(text: str, vocabulary: Vocabulary) -> str:
    spelling = _spelling_of(vocabulary)
    text = GLUED.sub(" ", spelling.no_drugs.sub(" ", text))
    for word, beside, means in spelling.short:
        if word.search(text) and beside.search(text):
            text = word.sub(means, text)
    words = words_of(text)
    if all(word in spelling.known for word in words if NAME.fullmatch(word)):
        return text
    heard = tuple(_by_ear(word, spelling.known) for word in words)
    right, _ = mended(heard, vocabulary.drugs, spelling.known, spelling.choices)
    for wrong, meant in zip(words, right, strict=True):
        if wrong != meant:
            text = re.sub(rf"\b{re.escape(wrong)}\b", meant, text)
    return text


def _by_ear(word: str, known: frozenset[str]) -> str:
    """A name written as it sounds ("morfine"), or the word as it is."""
    if word in known or not NAME.fullmatch(word):
        return word
    heard = {word.replace(wrote, meant) for wrote, meant in BY_EAR} & known
    return heard.pop() if len(heard) == 1 else word


def named(hits: Iterable[Hit]) -> tuple[Hit, ...]:
    """The drugs named, the vague ones ("antibiotics") left out beside a drug of a name.

    A class named beside its drug says nothing more: "antibiotics: ceftriaxone".
    """
    every = tuple(hits)
    drugs = tuple(hit for hit in every if not hit.meaning.data.get("is_class"))
    return drugs or every


def vague_ask(words: tuple[str, ...], hits: tuple[Hit, ...], vocabulary: Vocabulary) -> str:
    """What must be asked of names that leave open which drug is meant; "" when none does."""
    vague: Mapping[str, str] = vocabulary.tables["drugs"]["vague"]
    ask = vague.get(" ".join(words[hits[0].start : hits[0].end]))
    if ask:
        return ask
    names = {hit.meaning.key for hit in hits if not hit.meaning.data.get("is_class")}
    between = words[hits[0].end : hits[-1].start] if len(names) > 1 else ()
    if EITHER.search(" ".join(between)):
        return f"{' or '.join(sorted(name.replace('_', ' ') for name in names))}?".capitalize()
    return ""
