"""Facts about two things in one lumen, and which of them counts."""

from typing import Any

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.pairs.facts import NO_FACTS, PairFacts
from app.catalogue.pairs.reading import pair_facts_from
from app.catalogue.pairs.substance import (
    PLAIN_FLUID,
    Substance,
    bag_of,
    fluid_substance,
    made_up_in,
)
from app.intake.vocabulary import Vocabulary
from app.storage.seed_files import read_pair_facts

SALINE = Substance(frozenset({"sodium-chloride-0.9"}), kind="any fluid")
DEXTROSE = Substance(frozenset({"dextrose-5"}), frozenset({"glucose"}), "any fluid")
RINGERS = Substance(frozenset({"lactated-ringers"}), frozenset({"calcium"}), "any fluid")


def drug(name: str, *marks: str) -> Substance:
    return Substance(frozenset({name}), frozenset(marks))


def pair(**fields: Any) -> dict[str, Any]:  # noqa: ANN401
    return {"a": "x", "b": "y", "verdict": "keep apart", "source": "label", **fields}


@pytest.fixture(scope="module")
def facts() -> PairFacts:
    """The facts as shipped."""
    return read_pair_facts()


def verdict(facts: PairFacts, one: Substance, other: Substance) -> str:
    fact = facts.between(one, other)
    return fact.verdict if fact else "no row"


def test_amphotericin_keeps_apart_from_every_fluid_but_its_own_diluent(facts: PairFacts) -> None:
    amphotericin = drug("amphotericin_b")
    assert verdict(facts, amphotericin, SALINE) == "keep apart"
    assert verdict(facts, amphotericin, RINGERS) == "keep apart"
    assert verdict(facts, amphotericin, DEXTROSE) == "may run together"


def test_the_order_of_the_two_does_not_matter(facts: PairFacts) -> None:
    phenytoin = drug("phenytoin")
    assert facts.between(phenytoin, DEXTROSE) == facts.between(DEXTROSE, phenytoin)


def test_bicarbonate_keeps_apart_from_whatever_holds_calcium(facts: PairFacts) -> None:
    bicarbonate = drug("sodium_bicarbonate", "bicarbonate")
    assert verdict(facts, bicarbonate, RINGERS) == "keep apart"
    assert verdict(facts, bicarbonate, drug("calcium_gluconate", "calcium")) == "keep apart"
    assert verdict(facts, bicarbonate, SALINE) == "may run together"


def test_ceftriaxone_and_calcium_past_the_newborn_age_is_a_matter_of_order(
    facts: PairFacts,
) -> None:
    assert verdict(facts, drug("ceftriaxone"), RINGERS) == "in turn"


def test_a_drug_with_a_fluid_that_no_row_names_is_not_made_up(facts: PairFacts) -> None:
    assert verdict(facts, drug("meropenem"), SALINE) == "no row"
    assert NO_FACTS.between(drug("meropenem"), SALINE) is None


def test_of_two_rows_that_name_it_alike_the_stricter_counts() -> None:
    facts = pair_facts_from([{"pair": [pair(verdict="may run together"), pair()]}])
    assert verdict(facts, drug("x"), drug("y")) == "keep apart"


def test_where_sources_differ_both_are_kept_and_shown_and_the_stricter_counts(
    facts: PairFacts,
) -> None:
    insulin, norepinephrine = drug("insulin"), drug("norepinephrine", "vasoactive")
    behind = [ranked.fact for ranked in facts.behind(insulin, norepinephrine)]
    assert {fact.verdict for fact in behind} == {"keep apart", "may run together"}
    assert len({fact.source.work for fact in behind}) == 2
    assert verdict(facts, insulin, norepinephrine) == "keep apart"
    assert facts.is_disputed(insulin, norepinephrine)
    assert not facts.is_disputed(drug("milrinone"), drug("furosemide"))
    assert not facts.is_disputed(drug("meropenem"), SALINE)


def test_every_fact_has_its_source_and_no_source_says_two_things_of_one_contact(
    facts: PairFacts,
) -> None:
    said: dict[tuple[object, ...], str] = {}
    for fact in facts.facts:
        assert fact.source.work
        pair = frozenset((fact.a, fact.b))
        key = (pair, fact.population, fact.contact, fact.source.work)
        assert said.setdefault(key, fact.verdict) == fact.verdict, key


def test_of_a_bag_with_a_salt_in_it_every_part_is_asked_about(
    facts: PairFacts, catalogue: Catalogue
) -> None:
    dextrose = catalogue.get("dextrose-5")
    assert dextrose is not None
    amphotericin = drug("amphotericin_b")
    bag = bag_of(fluid_substance(dextrose), [drug("potassium_chloride", "potassium")])
    assert verdict(facts, amphotericin, fluid_substance(dextrose)) == "may run together"
    assert verdict(facts, amphotericin, bag) == "keep apart"
    assert verdict(facts, bag, amphotericin) == "keep apart"


def test_of_a_drug_s_diluent_only_what_may_never_meet_is_told(facts: PairFacts) -> None:
    in_saline = made_up_in(drug("meropenem"), SALINE)
    assert verdict(facts, in_saline, drug("amphotericin_b")) == "keep apart"
    assert verdict(facts, in_saline, drug("esmolol")) == "no row"


def test_what_is_said_of_one_bag_yields_to_what_was_seen_by_y_site(facts: PairFacts) -> None:
    both = [pair(contact="same bag"), pair(verdict="only if", contact="Y-site")]
    told = pair_facts_from([{"pair": both}])
    assert verdict(told, drug("x"), drug("y")) == "only if"
    in_bag = told.in_one_bag(drug("x"), drug("y"))
    assert in_bag is not None
    assert in_bag.verdict == "keep apart"
    assert facts.in_one_bag(drug("meropenem"), SALINE) is None


def test_amiodarone_keeps_apart_from_every_fluid_but_its_own_diluent(facts: PairFacts) -> None:
    amiodarone = drug("amiodarone")
    assert verdict(facts, amiodarone, SALINE) == "keep apart"
    assert verdict(facts, amiodarone, RINGERS) == "keep apart"
    assert verdict(facts, amiodarone, DEXTROSE) == "may run together"


def test_newborns_have_facts_of_their_own_that_reach_the_whole_patient(facts: PairFacts) -> None:
    behind = [ranked.fact for ranked in facts.behind(drug("ceftriaxone"), RINGERS)]
    (own,) = [fact for fact in behind if fact.population == "newborn"]
    assert (own.verdict, own.scope, own.contact) == ("keep apart", "patient", "any line")


def test_every_word_of_a_fact_is_one_that_a_case_can_hold(
    facts: PairFacts, catalogue: Catalogue, vocabulary: Vocabulary
) -> None:
    drugs = vocabulary.tables["drugs"]["drug"]
    marks = {mark for entry in drugs.values() for mark in entry.get("also", ())}
    known = {fluid.id for fluid in catalogue} | set(drugs) | marks
    known |= {"any drug", "any fluid", "potassium", "magnesium", "calcium", "phosphate", "glucose"}
    known |= {PLAIN_FLUID}
    assert {word for fact in facts.facts for word in (fact.a, fact.b)} <= known
