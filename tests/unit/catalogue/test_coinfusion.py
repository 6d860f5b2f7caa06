"""Facts about two things in one lumen, and which of them counts."""

from typing import Any

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.coinfusion import NO_FACTS, PairFacts, Substance, pair_facts_from
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
    assert verdict(facts, drug("ceftriaxone"), RINGERS) == "only if"


def test_a_drug_with_a_fluid_that_no_row_names_is_not_made_up(facts: PairFacts) -> None:
    assert verdict(facts, drug("meropenem"), SALINE) == "no row"
    assert NO_FACTS.between(drug("meropenem"), SALINE) is None


def test_of_two_rows_that_name_it_alike_the_stricter_counts() -> None:
    facts = pair_facts_from([{"pair": [pair(verdict="may run together"), pair()]}])
    assert verdict(facts, drug("x"), drug("y")) == "keep apart"


@pytest.mark.parametrize(
    ("entry", "says"),
    [
        (pair(verdict="probably fine"), "x and y: verdict must be one of"),
        (pair(source=""), "x and y: source is missing"),
        (pair(note="n"), "x and y: unknown key 'note'"),
    ],
)
def test_a_row_that_is_not_right_is_named(entry: dict[str, Any], says: str) -> None:
    with pytest.raises(ValueError, match=says):
        pair_facts_from([{"pair": [entry]}])


def test_every_fact_has_its_source_and_no_two_say_different_things_of_one_pair(
    facts: PairFacts,
) -> None:
    said: dict[tuple[frozenset[str], str], str] = {}
    for fact in facts.facts:
        assert fact.source.work
        key = (frozenset((fact.a, fact.b)), fact.population)
        assert said.setdefault(key, fact.verdict) == fact.verdict, key


def test_every_word_of_a_fact_is_one_that_a_case_can_hold(
    facts: PairFacts, catalogue: Catalogue, vocabulary: Vocabulary
) -> None:
    drugs = vocabulary.tables["drugs"]["drug"]
    marks = {mark for entry in drugs.values() for mark in entry.get("also", ())}
    known = {fluid.id for fluid in catalogue} | set(drugs) | marks
    known |= {"any drug", "any fluid", "potassium", "magnesium", "calcium", "phosphate", "glucose"}
    assert {word for fact in facts.facts for word in (fact.a, fact.b)} <= known
