"""An act as a sentence that can be read aloud: who did what to what, and from what to what."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any, Final

from app.catalogue.catalogue import Catalogue
from app.storage.audit.acts import (
    EXPORTED,
    PURGED,
    SEALED_ANEW,
    SIGNED_NOTE,
    TOLD_LUMEN,
    TOLD_STOCK,
    WITHDREW_NOTE,
)
from app.storage.audit.chain import Link
from app.web.audit.fields import Field, document_of, fields_of, fluid_fields, value_text
from app.web.audit.subjects import Named, named
from app.web.show import count

# Each act by the name it is recorded under, and what somebody did. {} is what it is about.
DID: Final[Mapping[str, str]] = MappingProxyType(
    {
        TOLD_STOCK: "told of the stock of {}",
        TOLD_LUMEN: "told of {}",
        SIGNED_NOTE: "signed {}",
        WITHDREW_NOTE: "took back {}",
        EXPORTED: "exported {}",
        SEALED_ANEW: "sealed {} anew",
        PURGED: "removed what is kept no longer of {}",
        "load-release": "brought {}",
        "draft-change": "drafted {}",
        "approve-change": "approved {}",
        "send-back-change": "sent back {}",
        "withdraw-change": "withdrew {}",
        "count-bags": "counted bags of {}",
        "keep-shortage-plan": "kept {}",
        "replay asked for": "asked for {} on past orders",
        "count asked for": "asked for {}, a count of what is said now",
        "sample drawn": "drew {} to be marked",
        "finding marked": "marked a finding of {}",
        "replay finished": "had {} run on past orders",
        "account added": "added {}",
        "account ended": "ended {}",
        "account opened again": "opened {} again",
        "roles changed": "changed the roles of {}",
        "new first password": "gave {} a new first password",
        "own password changed": "changed the password of {}, their own",
        "password set": "set the password of {}",
        "wait ended": "ended the wait of {}",
        "sessions ended": "ended the sessions of {}",
        "token made": "made {}",
        "token ended": "ended {}",
        "signed in by password past the house's own sign-in": "signed in as {} by password, past "
        "the house’s own sign-in",
    }
)
STATE: Final = "state"
VALUE: Final = "value"
SUBJECT: Final = "subject"
DOCUMENT: Final = "document"
FLUID: Final = "fluid"
RELEASE: Final = "release"
OF: Final = " of "


def act_words(act: str) -> str:
    """What somebody did, for choosing it: "drafted …". An act of another release by its name."""
    return DID.get(act, act).replace("{}", "…")


@dataclass(frozen=True, slots=True)
class ActRow:
    """One act on the page. opening, what, ending: the sentence in three pieces; what has a link.

    changed: from what to what, where that is one figure or word.
    """

    seq: int
    when: str
    who: str
    opening: str
    what: str
    href: str
    ending: str
    changed: str
    fields: tuple[Field, ...]
    counted: str

    @property
    def sentence(self) -> str:
        """The whole sentence."""
        changed = f": {self.changed}" if self.changed else ""
        return f"{self.who} {self.opening}{self.what}{self.ending}{changed}."


def act_row(link: Link, catalogue: Catalogue, when: str) -> ActRow:
    """One act in words. when: its moment as the page tells it."""
    before, after = document_of(link.before), document_of(link.after)
    about, of = named(link.subject, catalogue), _of(after, catalogue)
    opening, _, ending = DID.get(link.act, f"did “{link.act}” to {{}}").partition("{}")
    told = None if after is None else {k: v for k, v in after.items() if k != SUBJECT}
    is_fluid = (of.kind if of else about.kind) == FLUID
    fields = (fluid_fields if is_fluid else fields_of)(_entry(before), _entry(told))
    return ActRow(
        seq=link.seq,
        when=when,
        who=link.who or "The program",
        opening=opening,
        what=about.words,
        href=about.href,
        ending=f"{OF}{of.words}{ending}" if of else ending,
        changed=_changed(before, told or {}, of or about),
        fields=fields,
        counted=count(len(fields), "field"),
    )


def _of(after: Mapping[str, Any] | None, catalogue: Catalogue) -> Named | None:
    """What a draft is of, where the document says it."""
    return named(str(after[SUBJECT]), catalogue) if after and SUBJECT in after else None


def _changed(before: Mapping[str, Any] | None, after: Mapping[str, Any], about: Named) -> str:
    """From what to what in a few words; empty where that needs the fields."""
    if VALUE in after:
        old = _limit_value(before[VALUE], about) if before and VALUE in before else ""
        new = _limit_value(after[VALUE], about)
        return f"{old} to {new} {about.unit}".strip() if old else f"{new} {about.unit}".strip()
    if "on" in after:
        return "on" if after["on"] else "off"
    if STATE in after:
        old = value_text(before[STATE]) if before and STATE in before else ""
        return f"{old} to {value_text(after[STATE])}" if old else value_text(after[STATE])
    if about.kind == RELEASE:
        return ", ".join(f"{value_text(number)} {outcome}" for outcome, number in after.items())
    return str(after["reason"]) if set(after) == {"reason"} else ""


def _limit_value(value: object, about: Named) -> str:
    """A limit's value; none of its own is the one it was shipped with."""
    if value is None:
        shipped = "" if about.shipped is None else f" {value_text(about.shipped)}"
        return f"as shipped{shipped}"
    return value_text(value)


def _entry(document: Mapping[str, Any] | None) -> Mapping[str, Any] | None:
    """A fluid's entry without the wrapping that a change stores it in."""
    if document is not None and set(document) == {DOCUMENT}:
        entry = document[DOCUMENT]
        return entry if isinstance(entry, dict) else None
    return document
