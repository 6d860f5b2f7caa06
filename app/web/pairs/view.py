"""Everything the page on pairs may use, made from what was asked. Pure but for the names."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final

from app.catalogue.entry import EntryError
from app.catalogue.pairs.answer import PairBook, PartAnswer
from app.catalogue.pairs.fact import Verdict
from app.catalogue.pairs.facts import NEWBORN
from app.catalogue.pairs.local_note import LONGEST_TEXT
from app.cautions.phrases import opening
from app.intake.fluids import name_book
from app.review.knowledge import Knowledge
from app.review.pairs.things import names_known, read_thing
from app.review.pairs.told import Told, all_told, counted
from app.review.pairs.words import MARKS, NEVER_BOTH, Line, line_of, word_of
from app.web.pairs.asked import Field, address, fields_of
from app.web.pairs.facts import FactView, NoteView, fact_view, note_view
from app.web.pairs.known import KnownOf, known_of, sign_of
from app.web.show import count

COUNTED: Final[Mapping[Verdict, str]] = {
    "keep apart": "to keep apart", "in turn": "only in turn", "no data": "nobody has told us of",
    "only if": "on a condition", "may run together": "may run together",
}  # fmt: skip
NOTE_LABELS: Final = {
    "text": "What was found or agreed", "conditions": "Under which conditions",
    "review_on": "Review date", "reason": "Why it no longer holds",
}  # fmt: skip
OPEN_UP_TO: Final = 1


@dataclass(frozen=True, slots=True)
class PartView:
    """One part with another. title: which two, empty where the pair has no parts. may_sign: the
    keys a note would be signed for, none where nothing is open.
    """

    title: str
    sign: str
    line: Line
    why: str
    facts: tuple[FactView, ...]
    notes: tuple[NoteView, ...]
    may_sign: tuple[str, str] | None


@dataclass(frozen=True, slots=True)
class PairView:
    """One pair. sign: how it is drawn; newborn: what is different to 28 days of age; alone: the
    page about these two only, empty on that page; ambiguous: what was answered of words that may
    mean several things.
    """

    one: str
    other: str
    sign: str
    line: Line
    newborn: str
    ambiguous: str
    alone: str
    parts: tuple[PartView, ...]


@dataclass(frozen=True, slots=True)
class NoteForm:
    """What was typed into the form of a note, and what of it was not accepted. about: which
    form of the page, "sign-" and the two keys, or the number of the note to be taken back.
    signer: who would sign, by name and role; empty where whoever looks may sign nothing.
    """

    about: str = ""
    typed: Mapping[str, str] = field(default_factory=dict)
    fault: tuple[str, str] = ("", "")
    signer: str = ""

    def value(self, about: str, name: str) -> str:
        """What was typed in a field of one form."""
        return self.typed.get(name, "") if about == self.about else ""

    def error(self, about: str, name: str) -> str:
        """The message beside a field of one form."""
        return self.fault[1] if (about, name) == (self.about, self.fault[0]) else ""


@dataclass(frozen=True, slots=True)
class PairsPage:
    """The page. counts: how many pairs have which answer; unfolded: few enough to show all."""

    fields: tuple[Field, ...]
    names: tuple[str, ...]
    pairs: tuple[PairView, ...]
    counts: str
    known: KnownOf | None
    unfolded: bool
    facts_held: int
    form: NoteForm
    longest_text: int = LONGEST_TEXT


def pairs_page(
    words: Sequence[str], knowledge: Knowledge, book: PairBook, form: NoteForm | None = None
) -> PairsPage:
    """The page about these words."""
    catalogue = knowledge.catalogue
    names = name_book(catalogue, knowledge.vocabulary)
    things = tuple(read_thing(str(n), each, names) for n, each in enumerate(words, 1))
    told = all_told(book, things)
    makes = _Pairs(knowledge, book, is_alone=len(told) == 1)
    facts = book.facts.facts
    spoken_of = frozenset(word for fact in facts for word in (fact.a, fact.b))
    return PairsPage(
        fields=fields_of(things),
        names=names_known(catalogue, spoken_of),
        pairs=tuple(makes.pair(each) for each in told),
        counts=_counts(told),
        known=known_of(things[0], facts, catalogue) if len(things) == 1 else None,
        unfolded=len(told) <= OPEN_UP_TO,
        facts_held=len(facts),
        form=form or NoteForm(),
    )


def _counts(told: Sequence[Told]) -> str:
    if len(told) <= 1:
        return ""
    said = ", ".join(f"{number} {COUNTED[verdict]}" for verdict, number in counted(told))
    unseen = sum(each.answer.is_unseen for each in told)
    confirm = f" Of these confirm {unseen} with pharmacy first." if unseen else ""
    return f"{count(len(told), 'pair')}: {said}.{confirm}"


@dataclass(frozen=True, slots=True)
class _Pairs:
    """Makes pairs for one page."""

    knowledge: Knowledge
    book: PairBook
    is_alone: bool

    def pair(self, told: Told) -> PairView:
        one, other = told.meant
        several = len(told.answer.parts) > 1
        written = (told.one.written, told.other.written)
        return PairView(
            one=opening(one.name),
            other=other.name,
            sign=sign_of(told.answer),
            line=line_of(told.answer.decisive),
            newborn=self._newborn(told),
            ambiguous=_ambiguous(told),
            alone="" if self.is_alone else address(written),
            parts=tuple(self._part(part, several=several) for part in told.answer.parts),
        )

    def _newborn(self, told: Told) -> str:
        """What is different in a newborn; empty when nothing is."""
        one, other = (meant.substance for meant in told.meant)
        own = self.book.answer(one, other, newborn=True).decisive
        if own.counts is None or own.counts.population != NEWBORN:
            return ""
        return line_of(own).text.replace(NEVER_BOTH, "Not both at all")

    def _part(self, part: PartAnswer, *, several: bool) -> PartView:
        catalogue = self.knowledge.catalogue
        names = tuple(word_of(each.key, catalogue) for each in (part.one, part.other))
        keys = (part.one.key, part.other.key)
        return PartView(
            title=opening(" with ".join(names)) if several else "",
            sign=sign_of(part),
            line=line_of(part),
            why=part.why if part.facts or part.note else "",
            facts=tuple(fact_view(f, catalogue, counts=f is part.counts) for f in part.facts),
            notes=tuple(note_view(note, self.book.notes.on) for note in part.notes),
            may_sign=keys if part.may_be_signed and _may_be_named(keys) else None,
        )


def _may_be_named(keys: tuple[str, str]) -> bool:
    """A note is about two things that have a name, not about whatever holds calcium."""
    return all(key and key not in MARKS for key in keys)


def _ambiguous(told: Told) -> str:
    open_ = [thing for thing in (told.one, told.other) if len(thing.meant) > 1]
    if not open_:
        return ""
    said = " and ".join(f"“{thing.written}”" for thing in open_)
    return f"{said} may mean several things: this is the strictest answer."


def note_fault(about: str, typed: Mapping[str, str], fault: EntryError) -> NoteForm:
    """The form as typed, with the message beside the field that was not accepted."""
    name = NOTE_LABELS[fault.field]
    said = f"“{fault.value}” is not accepted" if fault.value else "nothing is written"
    return NoteForm(about, typed, (fault.field, f"{name}: {said}. Accepted: {fault.accepted}."))
