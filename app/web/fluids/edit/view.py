"""The form as the page shows it: fields in groups, what was typed, and what stands beside."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Final, get_args

from app.catalogue.changes.change import Document
from app.catalogue.entry import BASES
from app.catalogue.fluid import FluidKind
from app.catalogue.labels.help import HELP, Help
from app.review.knowledge import Knowledge, Past
from app.web.changes.draft_view import blank
from app.web.changes.rows import ChangeRow, change_row
from app.web.fluids.edit.fields import (
    BASIS,
    COLLOID_CHARGE,
    COVERED,
    ENERGY,
    EXPLAINED,
    ION_FIELDS,
    MASS_FIELDS,
    OSMOLARITY,
    OTHER_SOLUTE,
    PACKS,
    PH,
    WORDS,
    Field,
    field,
    source_field,
)
from app.web.fluids.edit.late import Other
from app.web.fluids.edit.live import Live
from app.web.fluids.edit.typed import Typed, rows_of

ONE_MORE: Final = "more-source"
# Fields outside the groups, and the parts of a source, that may have a message.
PLAIN: Final = (
    "name", "kind", "variant_of", "reference_id", PACKS, WORDS, BASIS, "note", "never_hung",
    "source", "label",
)  # fmt: skip
TOLD_PARTS: Final = ("work", "place", "covers", "note")


@dataclass(frozen=True, slots=True)
class Target:
    """Which entry is written. fluid_id: empty for a new one. in_force: None when nothing is."""

    fluid_id: str
    in_force: Document | None

    @property
    def action(self) -> str:
        """Where the form is sent."""
        return f"/catalogue/{self.fluid_id}/edit" if self.fluid_id else "/catalogue/new"

    @property
    def name(self) -> str:
        """The name in force, or the key of a fluid that is not in the catalogue."""
        return str((self.in_force or {}).get("name", self.fluid_id))


@dataclass(frozen=True, slots=True)
class Said:
    """What the page says besides: a fault above the form, messages beside fields, what others did.

    told: what was done to the form ("filled from the label"), empty when nothing was.
    """

    above: str = ""
    messages: Mapping[str, str] | None = None
    others: tuple[Other, ...] = ()
    told: str = ""


@dataclass(frozen=True, slots=True)
class SourceRow:
    """One source's fields by part: name, text and message."""

    place: int
    names: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class EditPage:
    """The whole page. drafts: what is drafted or waits of the same fluid."""

    target: Target
    heading: str
    typed: Typed
    live: Live
    said: Said
    messages: Mapping[str, str]
    ions: tuple[Field, ...]
    masses: tuple[Field, ...]
    label_figures: tuple[Field, ...]
    others: tuple[Field, ...]
    explained: tuple[Field, ...]
    sources: tuple[SourceRow, ...]
    covered: tuple[str, ...]
    kinds: tuple[str, ...]
    bases: tuple[str, ...]
    drafts: tuple[ChangeRow, ...]
    based_on: str
    help: Help = HELP

    @property
    def slots(self) -> tuple[str, ...]:
        """Every field of the entry that has a place for a message on the page."""
        groups = (self.ions, self.masses, self.label_figures, self.others, self.explained)
        sources = (row.names[part] for row in self.sources for part in TOLD_PARTS)
        key = () if self.target.fluid_id else ("id",)
        return (*key, *PLAIN, *(one.name for group in groups for one in group), *sources)


@dataclass(frozen=True, slots=True)
class Around:
    """What a page is made with: everything that counts and counted, and the moment."""

    past: Past
    knowledge: Knowledge
    now: datetime


@dataclass(frozen=True, slots=True)
class Writing:
    """An entry as somebody writes it."""

    target: Target
    typed: Typed
    around: Around


def edit_page(writing: Writing, live: Live, said: Said) -> EditPage:
    """The page at a moment."""
    target, typed, around = writing.target, writing.typed, writing.around
    filled = {**blank(around.now), **typed}
    rows = rows_of(typed) + (typed.get("do") == ONE_MORE)
    return EditPage(
        target=target,
        heading=f"Change {target.name}" if target.fluid_id else "Write a new fluid",
        typed=filled,
        live=live,
        said=said,
        messages={**live.messages, **(said.messages or {})},
        ions=tuple(map(field, ION_FIELDS)),
        masses=tuple(map(field, MASS_FIELDS)),
        label_figures=tuple(map(field, (OSMOLARITY, *PH, ENERGY))),
        others=tuple(map(field, (OTHER_SOLUTE, COLLOID_CHARGE))),
        explained=tuple(map(field, EXPLAINED)),
        sources=tuple(map(_source, range(rows))),
        covered=tuple(COVERED.values()),
        kinds=get_args(FluidKind),
        bases=BASES,
        drafts=_drafts(target, around) if not said.others else (),
        based_on=_begun(typed, said, around.now),
    )


def _source(place: int) -> SourceRow:
    parts = ("work", "place", "seen", "covers", "note")
    return SourceRow(place, {part: source_field(place, part) for part in parts})


def _begun(typed: Typed, said: Said, now: datetime) -> str:
    """The moment the draft was begun; anew once it was told what others did meanwhile."""
    begun = typed.get("based_on", "")
    return begun if begun and not said.others else now.isoformat()


def _drafts(target: Target, around: Around) -> tuple[ChangeRow, ...]:
    history = around.past.history
    return tuple(
        change_row(filed, around.past, around.knowledge, around.now)
        for filed in history.about(f"fluid:{target.fluid_id}")
        if target.fluid_id and history.state(filed, around.now) in ("draft", "waiting")
    )
