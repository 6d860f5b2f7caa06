"""What a drug usually comes in is a fact too: it runs with that fluid in one bag every day."""

from collections.abc import Iterator
from typing import Final

from app.catalogue.pairs.fact import PairFact
from app.catalogue.pairs.facts import PairFacts
from app.catalogue.pairs.substance import drug_substance, fluid_substance
from app.catalogue.source import NO_SOURCE, Source
from app.catalogue.vehicles.vehicle import Vehicle, Vehicles

FLUID: Final = "fluid"


def with_carriers(facts: PairFacts, vehicles: Vehicles) -> PairFacts:
    """The facts, and for each drug its usual carrier, unless a fact names the two already.

    This proves the drug with that fluid, and nothing of two drugs that come in the same one.
    """
    return PairFacts.of((*facts.facts, *_carried(facts, vehicles)))


def _carried(facts: PairFacts, vehicles: Vehicles) -> Iterator[PairFact]:
    for vehicle in vehicles:
        if vehicle.fluid is None:
            continue
        known = facts.behind(drug_substance(vehicle.key), fluid_substance(vehicle.fluid))
        if not any(ranked.names_both for ranked in known):
            yield PairFact(
                a=vehicle.key,
                b=vehicle.fluid.id.replace("glucose-", "dextrose-"),
                verdict="may run together",
                source=_source(vehicle),
                condition="as its usual carrier",
                contact="same bag",
                how_seen="usual practice",
            )


def _source(vehicle: Vehicle) -> Source:
    told = (source for source in vehicle.sources if FLUID in source.covers)
    return next(told, Source(NO_SOURCE))
