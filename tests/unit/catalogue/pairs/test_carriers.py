"""A drug runs with its usual carrier every day, and that is a fact of its own."""

from app.catalogue.catalogue import Catalogue
from app.catalogue.pairs.carriers import with_carriers
from app.catalogue.pairs.facts import PairFacts
from app.catalogue.pairs.substance import drug_substance, fluid_substance
from app.catalogue.vehicles.vehicle import Vehicles
from app.storage.seed_files import read_pair_facts


def test_a_drug_and_its_usual_carrier_may_run_together_by_common_practice(
    vehicles: Vehicles, catalogue: Catalogue
) -> None:
    facts = with_carriers(read_pair_facts(), vehicles)
    saline = catalogue.get("sodium-chloride-0.9")
    assert saline is not None
    fact = facts.between(drug_substance("meropenem"), fluid_substance(saline))
    assert fact is not None
    assert (fact.verdict, fact.contact) == ("may run together", "same bag")
    assert fact.source.work == "common practice, no source"
    assert not fact.source.seen


def test_it_proves_nothing_of_two_drugs_that_come_in_one_fluid(vehicles: Vehicles) -> None:
    facts = with_carriers(read_pair_facts(), vehicles)
    assert facts.between(drug_substance("meropenem"), drug_substance("flucloxacillin")) is None


def test_what_the_table_says_of_the_two_already_is_left_alone(vehicles: Vehicles) -> None:
    table = read_pair_facts()
    more = with_carriers(table, vehicles).facts[len(table.facts) :]
    assert more
    named = {frozenset((fact.a, fact.b)) for fact in table.facts}
    assert not named & {frozenset((fact.a, fact.b)) for fact in more}
    assert with_carriers(PairFacts(), Vehicles()).facts == ()
