"""Changes in words: what they are about, how they stand, from when and until when."""

from datetime import date, datetime
from typing import Final

from app.catalogue.catalogue import Catalogue
from app.catalogue.changes.change import (
    Content,
    FluidEntry,
    Kind,
    LimitValue,
    RuleSwitch,
    Signature,
)
from app.catalogue.changes.history import Filed, State
from app.cautions.phrases import opening
from app.cautions.registry import RULE_BY_ID
from app.review.changes.meanwhile import limit_named
from app.web.show import capital

KIND_WORDS: Final[dict[Kind, str]] = {
    "fluid": "fluid",
    "limit": "limit",
    "switch": "rule off or on",
}
STATE_WORDS: Final[dict[State, str]] = {
    "draft": "to be decided", "waiting": "approved, waits for its moment", "in force": "in force",
    "superseded": "no longer in force", "sent back": "sent back", "withdrawn": "withdrawn",
}  # fmt: skip


def title_of(content: Content, catalogue: Catalogue) -> str:
    """What a change is about, as people name it."""
    if isinstance(content, FluidEntry):
        return fluid_name(content, catalogue)
    title = rule_title(content.rule_id)
    if isinstance(content, RuleSwitch):
        return f"{title}: {'on again' if content.on else 'switched off'}"
    return f"{title}: {limit_words(content)}"


def fluid_name(content: FluidEntry, catalogue: Catalogue) -> str:
    """The fluid's name, in the entry or else in the catalogue."""
    held = catalogue.get(content.fluid_id)
    if content.document is None:
        return f"{held.name if held else content.fluid_id}: taken out"
    name = str(content.document.get("name", content.fluid_id))
    return name if held else f"{name}: new"


def rule_title(rule_id: str) -> str:
    """The rule's title, or its id where the release no longer knows it."""
    return opening(RULE_BY_ID[rule_id].title) if rule_id in RULE_BY_ID else rule_id


def limit_words(content: LimitValue) -> str:
    """What a limit means; its name where the release no longer knows it."""
    limit = limit_named(content.rule_id, content.name)
    meaning = limit.meaning if limit else ""
    return meaning or content.name.replace("_", " ")


def href_of(content: Content) -> str:
    """The page of what a change is about."""
    if isinstance(content, FluidEntry):
        return f"/catalogue/{content.fluid_id}"
    return f"/rules/{content.rule_id}"


def moment_text(moment: datetime, now: datetime) -> str:
    """A moment on the unit's clock: "Tue 4 Mar 2031, 07:05"."""
    local = moment.astimezone(now.tzinfo)
    return f"{local:%a} {local.day} {local:%b %Y, %H:%M}"


def day_text(day: date) -> str:
    """A day: "4 Mar 2031"."""
    return f"{day.day} {day:%b %Y}"


def signed_text(signature: Signature, now: datetime) -> str:
    """Who and when: "J. Birch, pharmacist, Tue 4 Mar 2031, 07:05"."""
    role = ", pharmacist" if signature.pharmacist else ""
    return f"{signature.name}{role}, {moment_text(signature.at, now)}"


def counts_text(filed: Filed, state: State, now: datetime) -> str:
    """From when it counts, in a sentence that fits how it stands."""
    change, began = filed.change, filed.counts_from
    if began is not None:
        verb = "Counted" if state == "superseded" else "Counts"
        return f"{verb} from {moment_text(began, now)}"
    if state != "draft":
        return "Never counted"
    if change.effective_from <= max(now, change.drafted.at):
        return "Would count as soon as it is approved"
    return f"Would count from {moment_text(change.effective_from, now)}"


def review_text(filed: Filed, state: State, now: datetime) -> str:
    """The day by which it is looked at again, and that it has passed where that matters."""
    day = filed.change.review_on
    if state == "in force" and day < now.date():
        return f"Review was due on {day_text(day)} and has not been done"
    return f"To be looked at again by {day_text(day)}"


def verdict_text(verdict: str) -> str:
    """A decision as the start of a line: "Sent back by"."""
    return f"{capital(verdict)} by"
