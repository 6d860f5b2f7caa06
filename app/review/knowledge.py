"""What a review is made with: fluids, words, vehicles, and rules with the limits in force."""

import hashlib
import json
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import Final

from sqlalchemy.orm import Session

from app.catalogue.catalogue import Catalogue
from app.catalogue.pairs.carriers import with_carriers
from app.catalogue.pairs.facts import NO_FACTS, PairFacts
from app.catalogue.plasma import Plasma
from app.catalogue.vehicles.vehicle import NO_VEHICLES, Vehicles
from app.cautions.assess import Ruleset
from app.cautions.limits import LimitChange, limits_in_force
from app.cautions.registry import RULES
from app.intake.vocabulary import Vocabulary
from app.storage.changes.limits import read_limit_changes
from app.storage.fluids import read_catalogue
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
        return _knowledge(catalogue, (), date.min)

    @staticmethod
    def from_database(session: Session, *, on: date) -> "Knowledge":
        """From the database's catalogue and the local limits in force on a day."""
        return _knowledge(read_catalogue(session), read_limit_changes(session), on)


def _knowledge(catalogue: Catalogue, changes: Iterable[LimitChange], on: date) -> Knowledge:
    vocabulary, plasma = read_vocabulary(), read_plasma()
    # A local catalogue may lack what drugs come in, so carriers are those shipped.
    vehicles = read_vehicles(read_fluids()[0])
    pairs = with_carriers(read_pair_facts(), vehicles)
    ruleset = Ruleset.of(RULES, limits_in_force(RULES, changes, on=on))
    words = json.dumps(vocabulary.tables, sort_keys=True, default=str)
    parts = f"{catalogue.version} {ruleset.version} {plasma} {words} {pairs.facts} {vehicles}"
    version = hashlib.sha256(parts.encode()).hexdigest()[:VERSION_LENGTH]
    return Knowledge(catalogue, plasma, vocabulary, ruleset, version, pairs, vehicles)
