"""The drug list: which drugs the patient takes, and what follows from them."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Final

from app.intake.medicines.clauses import Clause, clauses_of
from app.intake.medicines.names import named, plain_names, vague_ask
from app.intake.medicines.nutrition import free_of
from app.intake.medicines.standing import ON_THE_SKIN, STEERED, is_doubted
from app.intake.request import Reader
from app.intake.vocabulary import Vocabulary, fold, plain_words, words_of
from app.patient.snapshot import Words

NOTHING: Final = re.compile(
    r"(?:takes |taking |on )?"
    r"(?:none|nil|no|n/a|-+|nothing|nka|nkda|nil known|no regular|nil regular)"
    r"(?: (?:known|regular|other|drugs?|medications?|medicines?|meds|allerg\w+|infusions?|running"
    r"|at present|currently|significant|of note))*"
)
NONE_OF: Final = re.compile(r"(?:no|not on(?: any)?|nil|denies|avoid|without)\b")
# Words on how or why a drug is given, which name none.
ON_A_DRUG: Final = re.compile(
    r"[\d./%<> ]*(?:mg|mcg|g|units?|ml|mmol|tabs?|tablets?|days?|weeks?|months?|od|bd|tds|qds|nocte"
    r"|mane|prn|daily|stat|po|iv|sc|im|pr|regular(?:ly)?|long ?-?term|as needed|or similar|similar"
    r"|dose|course|day|only|/|\d|\s|x)*"
)
TAKEN: Final = ("runs", "elsewhere")
DENIED: Final = re.compile(r"\b(?:no|not on|not taking|never|nil)\b")


@dataclass(slots=True)
class _Heard:
    found: dict[str, str] = field(default_factory=dict)
    denied: set[str] = field(default_factory=set)
    unread: list[str] = field(default_factory=list)


def read_drug_list(reader: Reader, vocabulary: Vocabulary) -> Words:
    """The medications of a request; a class that leaves open which drug is asked about."""
    texts = reader.texts("medications")
    for text, ask in vocabulary.keep("asks of lists", texts, lambda: _asks(texts, vocabulary)):
        reader.ask("medications", text, ask)
    return read_medications(texts, vocabulary)


def _asks(texts: tuple[str, ...], vocabulary: Vocabulary) -> tuple[tuple[str, str], ...]:
    return tuple((text, ask) for text in texts for ask in asks_of(text, vocabulary))


def asks_of(text: str, vocabulary: Vocabulary) -> Iterator[str]:
    """What the names in a line of the drug list leave open."""
    plain = plain_names(fold(text), vocabulary)
    taken = [c for c in clauses_of(plain, vocabulary) if c.hits and c.stands in TAKEN]
    for clause in taken:
        words = plain_words(words_of(clause.text))
        if ask := vague_ask(words, named(clause.hits), vocabulary):
            yield ask
    if taken and is_doubted(plain):
        yield "Is it taken? It is written as not sure."


def read_medications(texts: Iterable[str], vocabulary: Vocabulary) -> Words:
    """The drug list as keys and class marks; a drug stopped or held is not found."""
    key = tuple(texts)
    return vocabulary.keep("medications", key, lambda: _read(key, vocabulary))


def also_taken(words: Words, texts: Iterable[str], vocabulary: Vocabulary) -> Words:
    """The drug list with what is written elsewhere and taken by mouth, muscle or skin."""
    more = read_medications(texts, vocabulary)
    if not more.found:
        return words
    found = words.found | more.found
    detail = MappingProxyType({**more.detail, **words.detail})
    return Words(found, words.denied - found, words.unread, detail)


def _read(texts: tuple[str, ...], vocabulary: Vocabulary) -> Words:
    heard = _Heard()
    for text in texts:
        for clause in clauses_of(plain_names(fold(text), vocabulary), vocabulary):
            _hear(clause, text, heard)
    return Words(
        frozenset(heard.found), frozenset(heard.denied - heard.found.keys()),
        tuple(heard.unread), MappingProxyType(heard.found),
    )  # fmt: skip


def _hear(clause: Clause, text: str, heard: _Heard) -> None:
    if not clause.hits:
        if _names_something(clause):
            heard.unread.append(clause.text.strip(" ."))
    elif clause.stands in TAKEN:
        if not ON_THE_SKIN.search(clause.text):
            for key in _keys_of(clause):
                heard.found.setdefault(key, text)
    elif DENIED.search(clause.text):
        heard.denied.update(hit.meaning.key for hit in clause.hits)


def _names_something(clause: Clause) -> bool:
    """True for words that may name a drug nobody knows: no note, no dose, no statement."""
    bare = clause.text.strip(" .")
    if clause.after == "note" or (clause.said and clause.stands != "elsewhere"):
        return False
    if STEERED.match(bare):
        return False
    no_name = NOTHING.fullmatch(bare) or NONE_OF.match(bare) or ON_A_DRUG.fullmatch(bare)
    return bool(bare) and not no_name


def _keys_of(clause: Clause) -> Iterator[str]:
    """Keys and marks; nutrition written as free of an ion does not bring it."""
    free = free_of(clause.text)
    for hit in clause.hits:
        keys: tuple[str, ...] = (hit.meaning.key, *hit.meaning.marks)
        yield from (key for key in keys if key not in free)
