"""What a review is made with: fluids, words, vehicles, and rules with the limits in force."""

import hashlib
import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from functools import cache
from typing import Final

from sqlalchemy.orm import Session

from app.catalogue.catalogue import Catalogue
from app.catalogue.changes.change import Document, LimitValue, RuleSwitch
from app.catalogue.changes.history import Filed, History
from app.catalogue.changes.versions import FluidVersion, documents_at
from app.catalogue.entry import fluid_from
from app.catalogue.pairs.carriers import with_carriers
from app.catalogue.pairs.facts import NO_FACTS, PairFacts
from app.catalogue.plasma import Plasma
from app.catalogue.vehicles.vehicle import NO_VEHICLES, Vehicles
from app.cautions.assess import Ruleset
from app.cautions.limits import limits_in_force
from app.cautions.registry import RULE_BY_ID, RULES
from app.cautions.switches import SwitchedOff
from app.intake.vocabulary import Vocabulary
from app.storage.changes.records import read_history
from app.storage.changes.versions import read_versions
from app.storage.seed_files import (
    read_fluids,
    read_pair_facts,
    read_plasma,
    read_vehicles,
    read_vocabulary,
)

VERSION_LENGTH: Final = 12


@dataclass(frozen=True, slots=True)
class Knowledge:
    """Everything a review needs besides the patient. version: changes when any of it does."""

    catalogue: Catalogue
    plasma: Plasma
    vocabulary: Vocabulary
    ruleset: Ruleset
    version: str
    pairs: PairFacts = NO_FACTS
    vehicles: Vehicles = NO_VEHICLES

    @staticmethod
    def from_seed() -> "Knowledge":
        """From seed_data/ alone, with the limits as shipped. Raises ValueError for a bad file."""
        catalogue, faults = read_fluids()
        if faults:
            raise ValueError("\n".join(map(str, faults)))
        return _knowledge(catalogue, Ruleset.of(RULES, limits_in_force(RULES)))

    @staticmethod
    def at(session: Session, moment: datetime) -> "Knowledge":
        """As the database had it at a moment: its catalogue, its limits, its rules on and off."""
        return Past.of(session).at(moment)

    def having(
        self, *, catalogue: Catalogue | None = None, ruleset: Ruleset | None = None
    ) -> "Knowledge":
        """With another catalogue or other rules, and the version that follows from them."""
        other = replace(
            self,
            catalogue=self.catalogue if catalogue is None else catalogue,
            ruleset=self.ruleset if ruleset is None else ruleset,
        )
        return replace(other, version=_version(other))


@dataclass(frozen=True, slots=True)
class Past:
    """Every version and change there ever was, read once, so that many moments can be asked for.

    words: knowledge of any moment, for what no change touches: words, pairs, vehicles, plasma.
    """

    versions: tuple[FluidVersion, ...]
    history: History
    words: Knowledge

    @staticmethod
    def of(session: Session) -> "Past":
        """All that the database holds."""
        return Past(read_versions(session), read_history(session), shipped())

    def at(self, moment: datetime) -> Knowledge:
        """What counted at a moment."""
        found = self.documents(moment)
        catalogue = Catalogue(tuple(fluid_from(one, file_id=key) for key, one in found.items()))
        ruleset = ruleset_of(self.history.in_force(moment))
        return self.words.having(catalogue=catalogue, ruleset=ruleset)

    def documents(self, moment: datetime) -> Mapping[str, Document]:
        """Every fluid's entry that counted at a moment, by fluid."""
        return documents_at(self.versions, self.history, moment)

    def moments(self) -> tuple[datetime, ...]:
        """Every moment from which something else counted, the newest first."""
        loaded = {version.from_at for version in self.versions}
        return tuple(sorted(loaded | set(self.history.moments()), reverse=True))


@cache
def shipped() -> Knowledge:
    """What the release itself says, read once."""
    return Knowledge.from_seed()


def ruleset_of(in_force: Mapping[str, Filed]) -> Ruleset:
    """The release's rules with the limits and switches that count."""
    contents = [filed.change.content for filed in in_force.values()]
    local = [one for one in contents if isinstance(one, LimitValue)]
    return Ruleset.of(RULES, limits_in_force(RULES, local), switched_off(in_force.values()))


def switched_off(filed: Iterable[Filed]) -> tuple[SwitchedOff, ...]:
    """The rules that changes switch off, in the order of their ids; a rule that the release no
    longer knows is left alone.
    """
    off = (switched_off_by(one) for one in filed)
    return tuple(sorted((one for one in off if one), key=lambda one: one.rule.id))


def switched_off_by(filed: Filed) -> SwitchedOff | None:
    """The rule that a change switches off, or None."""
    change = filed.change
    content = change.content
    if not isinstance(content, RuleSwitch) or content.on or content.rule_id not in RULE_BY_ID:
        return None
    approved = filed.decided("approved")
    by = (
        change.drafted.name
        if approved is None
        else f"{change.drafted.name} and {approved.signed.name}"
    )
    since = filed.counts_from or change.effective_from
    return SwitchedOff(RULE_BY_ID[content.rule_id], since, by, change.reason, change.review_on)


def _knowledge(catalogue: Catalogue, ruleset: Ruleset) -> Knowledge:
    vocabulary, plasma = read_vocabulary(), read_plasma()
    # A local catalogue may lack what drugs come in, so carriers are those shipped.
    vehicles = read_vehicles(read_fluids()[0])
    pairs = with_carriers(read_pair_facts(), vehicles)
    made = Knowledge(catalogue, plasma, vocabulary, ruleset, "", pairs, vehicles)
    return replace(made, version=_version(made))


def _version(of: Knowledge) -> str:
    words = json.dumps(of.vocabulary.tables, sort_keys=True, default=str)
    parts = (
        f"{of.catalogue.version} {of.ruleset.version} {of.plasma} {words} {of.pairs.facts} "
        f"{of.vehicles}"
    )
    return hashlib.sha256(parts.encode()).hexdigest()[:VERSION_LENGTH]
