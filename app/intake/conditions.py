"""Conditions as people write them: which are present, which are denied, which are not read."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any, Final

from app.intake.bedside.measures import read_fasting, read_measures
from app.intake.bedside.operations import (
    STILL_TO_COME,
    is_recent_operation,
    names_operation,
)
from app.intake.bedside.samples import without_sample_remarks
from app.intake.bedside.urine import read_urine
from app.intake.problems.gestation import read_gestation
from app.intake.problems.grades import filtration_keys, graded, within_72_h
from app.intake.problems.lists import REACHES_ON, TURNS, Clause, denied_in_lists, reaches
from app.intake.problems.said import Around, Verdict, denies, is_of_others, verdict
from app.intake.problems.sentences import sentences
from app.intake.problems.shorthand import written_out
from app.intake.results.in_words import without_figures
from app.intake.slips.near import Choices, right_words
from app.intake.slips.phrases import choices_of, mended
from app.intake.vocabulary import Hit, Vocabulary, plain_words, words_of
from app.patient.snapshot import Words

FAMILY_HEADING: Final = re.compile(
    r"^(?:(?:fhx?|family (?:history|hx)|fam (?:history|hx))\b"
    r"|(?:wife|husband|partner|mother|father|mum|dad|son|daughter|brother|sister|carer)\s*:)"
)
DENIES_WHAT_FOLLOWS: Final = REACHES_ON | {"nil", "denies", "non"}
EITHER: Final = frozenset(["or", "vs", "versus", "v"])
# Said of the baby, though the statement be the mother's.
OF_THE_BABY: Final = frozenset({"newborn", "preterm"})


@dataclass(slots=True)
class _Heard:
    """What was heard so far, and by which words it is heard now."""

    vocabulary: Vocabulary
    this_year: int | None
    written: str = ""
    found: dict[str, str] = field(default_factory=dict)
    denied: set[str] = field(default_factory=set)
    unread: list[str] = field(default_factory=list)

    def find(self, keys: Iterable[str]) -> None:
        """Note conditions as present, by the words heard now."""
        for key in keys:
            self.found.setdefault(key, self.written)

    def add(self, said: "_Heard") -> None:
        """Note what one more statement says."""
        new = said.found.keys() - self.found.keys()
        self.found |= {key: said.written for key in said.found if key in new}
        if {"hyponatraemia", "seizure"} <= new:
            self.found.setdefault("severe_hyponatraemia_symptoms", said.written)
        self.denied |= said.denied
        self.unread.extend(said.unread)

    def entry(self, key: str) -> Mapping[str, Any]:
        """The vocabulary's row of a condition."""
        row: Mapping[str, Any] = self.vocabulary.tables["conditions"]["condition"][key]
        return row


def read_conditions(
    texts: Iterable[str], vocabulary: Vocabulary, this_year: int | None = None
) -> Words:
    """Every statement of the problem list; what is both stated and denied counts as stated.

    this_year: the year of the review; an acute condition of an earlier one is over.
    """
    key = (tuple(texts), this_year)
    return vocabulary.keep("conditions", key, lambda: _read(key[0], vocabulary, this_year))


def _read(texts: tuple[str, ...], vocabulary: Vocabulary, this_year: int | None) -> Words:
    heard = _Heard(vocabulary, this_year)
    for text in texts:
        heard.add(_statement(text, vocabulary, this_year))
    return Words(
        frozenset(heard.found),
        frozenset(_with_children(heard.denied, vocabulary.parents) - heard.found.keys()),
        tuple(dict.fromkeys(heard.unread)),
        MappingProxyType(heard.found),
    )


def _statement(text: str, vocabulary: Vocabulary, this_year: int | None) -> _Heard:
    """What one statement says; kept, since a list changes by one statement at a time."""
    return vocabulary.keep(
        "statements", (text, this_year), lambda: _hear_text(_Heard(vocabulary, this_year, text))
    )


def _hear_text(heard: _Heard) -> _Heard:
    rest, keys = read_gestation(written_out(heard.written, heard.vocabulary))
    heard.find(keys & OF_THE_BABY if is_of_others(rest) else keys)
    rest, _ = read_urine(without_sample_remarks(rest))
    for clauses in sentences(rest):
        _hear_sentence([_clause(clause, heard) for clause in clauses], heard)
    return heard


def _clause(text: str, heard: _Heard) -> Clause:
    """A clause in words with slips mended, and the phrases in it; its measures are heard."""
    text, fasting = read_fasting(text)
    rest, keys = read_measures(without_figures(text))
    if not is_of_others(text):
        heard.find(fasting if denies(text) else fasting | keys)
    vocabulary = heard.vocabulary
    words = plain_words(words_of(rest))
    known, choices = vocabulary.keep("right spellings", "", lambda: _spellings(vocabulary))
    if not names_operation(" ".join(words)):
        words, unclear = mended(words, vocabulary.conditions, known, choices)
        heard.unread.extend(unclear)
    words = _what_matters(words, vocabulary)
    return Clause(text, words, tuple(vocabulary.conditions.hits(words)))


def _what_matters(words: tuple[str, ...], vocabulary: Vocabulary) -> tuple[str, ...]:
    """The words without phrases of no matter, so that none of them parts what belongs together."""
    for hit in reversed(tuple(vocabulary.conditions.hits(words))):
        if hit.meaning.key == "of_no_matter":
            words = (*words[: hit.start], *words[hit.end :])
    return words


def _spellings(vocabulary: Vocabulary) -> tuple[frozenset[str], Choices]:
    """Words that are right as they stand, and those that a slip may be meant for."""
    plain = vocabulary.tables["conditions"].get("plain_words", ())
    return right_words(vocabulary).union(plain, TURNS), choices_of(vocabulary.conditions)


def _hear_sentence(clauses: list[Clause], heard: _Heard) -> None:
    family = bool(clauses and FAMILY_HEADING.match(clauses[0].text))
    denied, doubtful = denied_in_lists(clauses)
    for number, clause in enumerate(clauses):
        if number in doubtful:
            no = clauses[doubtful[number]].text
            heard.unread.append(f"{no}, {clause.text}: is the second denied too?")
            continue
        if is_recent_operation(" ".join(clause.words)):
            heard.find(["postoperative"])
        for start, end in reaches(clause.words, clause.hits):
            inside = tuple(hit for hit in clause.hits if start <= hit.start < end)
            span = _Span(clause, inside, start, end, number in denied, family)
            _hear_span(span, heard) if inside else _hear_unknown(clause.words[start:end], heard)


@dataclass(frozen=True, slots=True)
class _Span:
    """A stretch of a clause that one "no" would reach through, with the phrases in it."""

    clause: Clause
    inside: tuple[Hit, ...]
    start: int
    end: int
    denied_list: bool
    anothers: bool

    def around(self, number: int, this_year: int | None) -> Around:
        """The words round one of its phrases."""
        hit, words = self.inside[number], self.clause.words
        last = number + 1 == len(self.inside)
        after = words[hit.end : self.end if last else self.inside[number + 1].start]
        if not last and after and after[-1] in DENIES_WHAT_FOLLOWS:
            after = after[:-1]
        return Around(
            reach=" ".join(words[self.start : hit.start]),
            just_before=words[self.inside[number - 1].end if number else self.start : hit.start],
            itself=words[hit.start : hit.end],
            after=" ".join(after),
            whole_before=" ".join(words[: hit.start]),
            denied_list=self.denied_list,
            anothers=self.anothers,
            this_year=this_year,
            rest=" ".join(words[hit.end : self.end]),
        )


def _hear_span(span: _Span, heard: _Heard) -> None:
    arounds = [span.around(number, heard.this_year) for number in range(len(span.inside))]
    said = [_verdict(hit.meaning.key, around, heard)
            for hit, around in zip(span.inside, arounds, strict=True)]  # fmt: skip
    either = _alternatives(span, said)
    for number, hit in enumerate(span.inside):
        key, entry = hit.meaning.key, heard.entry(hit.meaning.key)
        if said[number] == "denied":
            heard.denied.update((key, *(entry["also"] if entry.get("together") else ())))
        if said[number] != "present":
            continue
        if "ask" in entry:
            heard.unread.append(f"{' '.join(arounds[number].itself)}: {entry['ask']}")
        elif number not in either:
            also = () if entry.get("together") else (key,)
            heard.find((*also, *entry.get("also", ()), *graded(key, arounds[number].near)))
            heard.find(filtration_keys(arounds[number].after) or ())
    if either:
        _hear_either([span.inside[number].meaning.key for number in either], span, heard)


def _verdict(key: str, around: Around, heard: _Heard) -> Verdict:
    entry = heard.entry(key)
    said = verdict(key, around, acute=entry.get("acute", False), act=entry.get("act", False))
    if said == "present" and key == "postoperative":
        if STILL_TO_COME.search(around.near):
            return "not said"
        return "present" if within_72_h(around.near) else "over"
    return said


def _alternatives(span: _Span, said: list[Verdict]) -> tuple[int, ...]:
    """Numbers of the phrases of which the words say only that it is one of them."""
    found: set[int] = set()
    for number in range(1, len(said)):
        one, other = span.inside[number - 1 : number + 1]
        between = span.clause.words[one.end : other.start]
        present = said[number - 1] == said[number] == "present"
        if present and one.meaning.key != other.meaning.key and not EITHER.isdisjoint(between):
            found |= {number - 1, number}
    return tuple(sorted(found))


def _hear_either(keys: list[str], span: _Span, heard: _Heard) -> None:
    """One of several: what holds for each of them is found, and the rest is asked."""
    parents = heard.vocabulary.parents
    heard.find(frozenset.intersection(*(parents[key] | {key} for key in keys)))
    heard.unread.append(f"{span.clause.text}: which?")


def _hear_unknown(words: tuple[str, ...], heard: _Heard) -> None:
    text = " ".join(words)
    filtration = filtration_keys(text)
    if filtration is not None:
        heard.find(filtration)
        return
    fillers = heard.vocabulary.fillers
    if names_operation(text) or all(word in fillers or word[0].isdigit() for word in words):
        return
    heard.unread.append(text)


def _with_children(denied: set[str], parents: Mapping[str, frozenset[str]]) -> set[str]:
    """Denying any kidney disease denies each kind of it."""
    if not denied:
        return denied
    return denied | {key for key, above in parents.items() if not above.isdisjoint(denied)}
