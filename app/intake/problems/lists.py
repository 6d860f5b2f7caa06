"""Clauses as words and phrases: how far a word reaches, and lists that one "no" denies."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from app.intake.vocabulary import Hit

# Words that end the reach of a "no" or a "previous".
TURNS: Final = frozenset(
    ["and", "but", "with", "plus", "due", "secondary", "on", "following", "however", "though",
     "although", "then", "despite"]
)  # fmt: skip
# "Not on dialysis": what follows still belongs to the "no".
# "On admission", "on CT": a note on what stands before.
NOTED: Final = frozenset(
    ["admission", "arrival", "presentation", "ct", "mri", "echo", "scan", "examination", "exam",
     "referral", "discharge"]
)  # fmt: skip
REACHES_ON: Final = frozenset(["no", "not", "never", "nor", "without", "longer", "yet"])
OPENS_LIST: Final = re.compile(
    r"\b(?:no|nil|without|denies|denied|denying|neither|never had|free of|negative for"
    r"|absence of)\b"
)
DENIES_ALL: Final = re.compile(r"\b(?:denies|denied|denying|neither|negative for|free of)\b")
JOINS_LAST: Final = re.compile(r"\b(?:or|nor)\b")
IN_A_LIST: Final = frozenset(
    ["or", "nor", "and", "any", "either", "history", "of", "other", "the", "a", "an", "recent",
     "hx", "h", "o", "/", "nil", "no"]
)  # fmt: skip
# "No CCF, on dialysis": what begins so states, and is no member of the list before.
STATES: Final = frozenset(
    ["on", "in", "known", "has", "is", "now", "new", "currently", "also", "post", "pod", "s"]
)
SURELY_A_LIST: Final = 2


@dataclass(frozen=True, slots=True)
class Clause:
    """A clause as written, its words, and the known phrases among them."""

    text: str
    words: tuple[str, ...]
    hits: tuple[Hit, ...]

    @property
    def is_bare(self) -> bool:
        """True when it holds names of conditions alone, as a member of a list does."""
        if not self.hits or self.words[0] in STATES:
            return False
        inside = {at for hit in self.hits for at in range(hit.start, hit.end)}
        return all(at in inside or word in IN_A_LIST for at, word in enumerate(self.words))

    @property
    def opens_list(self) -> bool:
        """True when it denies its last condition, and others may follow."""
        if not self.hits or self.hits[-1].end != len(self.words):
            return False
        before = " ".join(self.words[: self.hits[-1].start])
        opener = OPENS_LIST.search(before)
        return bool(opener) and TURNS.isdisjoint(before[opener.end() :].split() if opener else ())


def reaches(words: Sequence[str], hits: Sequence[Hit]) -> Iterator[tuple[int, int]]:
    """Stretches of words between turns ("but", "with") that stand in no known phrase."""
    inside = {at for hit in hits for at in range(hit.start, hit.end)}
    start = 0
    for at, word in enumerate(words):
        if word in TURNS and at not in inside and not _goes_on(words, at):
            if at > start:
                yield start, at
            start = at + 1
    if start < len(words):
        yield start, len(words)


def _goes_on(words: Sequence[str], at: int) -> bool:
    """True where a turn is none: "not on dialysis", "aki on admission"."""
    noted = words[at] == "on" and at + 1 < len(words) and words[at + 1] in NOTED
    return noted or (at > 0 and words[at - 1] in REACHES_ON)


def denied_in_lists(clauses: Sequence[Clause]) -> tuple[frozenset[int], dict[int, int]]:
    """Clauses that a "no" before them denies, and those where that is doubtful, with the "no".

    "No CCF, CKD or diabetes" denies three, and so does "denies CCF, CKD". "No CCF, CKD" does not
    say: what follows may be what the patient has.
    """
    denied: set[int] = set()
    doubtful: dict[int, int] = {}
    opener: int | None = None
    members: list[int] = []
    for number, clause in enumerate((*clauses, Clause("", (), ()))):
        if opener is not None and clause.is_bare and not clause.opens_list:
            members.append(number)
            continue
        if opener is not None and members:
            if _is_whole_list(clauses[opener], [clauses[at] for at in members]):
                denied.update(members)
            else:
                doubtful.update(dict.fromkeys(members, opener))
        opener, members = (number if clause.opens_list else None), []
    return frozenset(denied), doubtful


def _is_whole_list(opener: Clause, members: Sequence[Clause]) -> bool:
    if any(JOINS_LAST.search(member.text) for member in members):
        return True
    if JOINS_LAST.search(opener.text):
        return False
    return len(members) >= SURELY_A_LIST or bool(DENIES_ALL.search(opener.text))
