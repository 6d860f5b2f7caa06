"""What people write is understood as the facts name it, or asked about."""

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.pairs.answer import PairBook
from app.review.pairs.things import WHICH, WHICH_FLUID, names_known, things_of
from tests.unit.review.pairs.conftest import CaseOf, ThingOf

SALINE = {"fluid": "0.9% sodium chloride", "rate_ml_h": 80}


@pytest.mark.parametrize(
    ("words", "key", "name"),
    [
        ("ceftriaxone", "ceftriaxone", "ceftriaxone"),
        ("red_cells", "red_cells", "red cells"),
        ("2 units packed cells", "red_cells", "red cells"),
        ("Hartmann's", "compound-sodium-lactate", "compound sodium lactate (Hartmann's solution)"),
        ("lactated-ringers", "lactated-ringers", "lactated Ringer's (US)"),
        ("TPN", "parenteral_nutrition", "parenteral nutrition"),
        ("FFP", "plasma", "plasma"),
        ("bicarb 8.4%", "sodium-bicarbonate-8.4", "8.4% sodium bicarbonate"),
        ("amphotericin", "amphotericin_b", "amphotericin B"),
        ("lactated Ringer's 100 mL/h", "lactated-ringers", "lactated Ringer's (US)"),
        ("dextrose 5% 50 mL/h", "dextrose-5", "5% dextrose (US)"),
        ("norepinephrine 0.1 mcg/kg/min", "norepinephrine", "norepinephrine"),
        ("calcium", "calcium", "anything that holds calcium"),
        ("opioid", "opioid", "any opioid"),
        ("any vasoactive drug", "vasoactive", "any vasoactive drug"),
        ("any plain crystalloid", "plain fluid", "any plain crystalloid"),
        ("bicarbonate", "sodium_bicarbonate", "sodium bicarbonate"),
        ("magnesium", "magnesium_sulfate", "magnesium sulfate"),
    ],
)
def test_words_of_the_ward_mean_one_thing(thing: ThingOf, words: str, key: str, name: str) -> None:
    read = thing(words)
    assert [meant.substance.key for meant in read.meant] == [key]
    assert read.name == name


def test_a_drug_in_its_carrier_keeps_both(thing: ThingOf) -> None:
    (meant,) = thing("norad 4 mg in 50 mL dextrose 5%").meant
    drug, carrier = meant.substance.each()
    assert (drug.key, drug.is_carrier) == ("norepinephrine", False)
    assert "vasoactive" in drug.marks
    assert (carrier.key, carrier.is_carrier) == ("dextrose-5", True)
    assert meant.name == "norepinephrine in 5% dextrose (US)"


def test_a_bag_with_a_salt_is_its_parts(thing: ThingOf) -> None:
    (meant,) = thing("5% dextrose + KCl 20 mmol/L").meant
    assert [part.key for part in meant.substance.each()] == ["dextrose-5", "potassium_chloride"]
    assert not any(part.is_carrier for part in meant.substance.each())


def test_an_ambiguous_name_means_each_and_is_asked_about(thing: ThingOf) -> None:
    read = thing("ringers")
    assert len(read.meant) > 2
    assert read.ask
    assert read.name == "“ringers”"
    assert len(thing("ringers 100 mL/h").meant) == len(read.meant)
    assert thing("dextrose saline").meant[0].substance.kind == "any fluid"


def test_a_short_form_that_is_assumed_says_so(thing: ThingOf) -> None:
    read = thing("CTX")
    assert read.meant[0].substance.key == "ceftriaxone"
    assert "assumed" in read.ask


@pytest.mark.parametrize("words", ["abx", "antibiotic", "pressor"])
def test_a_class_that_no_fact_speaks_of_is_asked_about(thing: ThingOf, words: str) -> None:
    read = thing(words)
    assert not read.is_understood
    assert read.ask.startswith("Which")


def test_what_is_not_understood_is_never_guessed_and_near_names_are_offered(
    thing: ThingOf,
) -> None:
    assert thing("moon juice").ask == WHICH
    assert not thing("").is_understood
    read = thing("merropenum")
    assert (read.meant, read.choices) == ((), ("meropenem",))


def test_everything_that_runs_by_itself_is_a_thing_by_its_id(case_of: CaseOf) -> None:
    case = case_of(
        SALINE,
        {"fluid": "5% dextrose", "rate_ml_h": 40,
         "additives": [{"substance": "norepinephrine", "amount": 4, "unit": "mg"}]},
        beside=({"name": "insulin 2 units/h", "kind": "drug"}, {"name": "blood", "kind": "blood"}),
    )  # fmt: skip
    things = things_of(case)
    assert [each.id for each in things] == ["o1", "o2", "co_infusions[0]", "co_infusions[1]"]
    assert [each.name for each in things] == [
        "0.9% sodium chloride", "5% dextrose with norepinephrine", "insulin", "red cells",
    ]  # fmt: skip
    (bag,) = things[1].meant
    assert [part.key for part in bag.substance.each()] == ["dextrose-5", "norepinephrine"]


def test_an_order_that_is_not_understood_says_so_and_an_ambiguous_one_is_each(
    case_of: CaseOf,
) -> None:
    unknown, several = things_of(case_of({"fluid": "moon juice", "rate_ml_h": 1},
                                         {"fluid": "ringers", "rate_ml_h": 1}))  # fmt: skip
    assert (unknown.meant, unknown.ask) == ((), WHICH_FLUID)
    assert len(several.meant) > 2


def test_blood_or_nutrition_of_no_known_name_is_still_that(case_of: CaseOf) -> None:
    beside = ({"name": "zzz 1", "kind": "blood"}, {"name": "zzz 2", "kind": "nutrition"},
              {"name": "zzz 3", "kind": "drug"})  # fmt: skip
    blood, nutrition, drug = things_of(case_of(beside=beside))
    assert blood.meant[0].substance.key == "blood"
    assert nutrition.meant[0].substance.key == "parenteral_nutrition"
    assert "calcium" in nutrition.meant[0].substance.marks
    assert not drug.is_understood


def test_names_to_pick_are_fluids_that_may_be_hung_and_drugs_facts_speak_of(
    catalogue: Catalogue,
) -> None:
    known = names_known(catalogue, frozenset({"ceftriaxone", "any drug", "calcium"}))
    assert {"ceftriaxone", "anything that holds calcium", "0.9% sodium chloride"} <= set(known)
    assert "any drug" not in known
    assert not any("concentrate" in name for name in known)


def test_everything_the_page_offers_to_pick_is_understood(
    thing: ThingOf, catalogue: Catalogue, book: PairBook
) -> None:
    spoken_of = frozenset(word for fact in book.facts.facts for word in (fact.a, fact.b))
    lost = [name for name in names_known(catalogue, spoken_of) if not thing(name).is_understood]
    assert lost == []


def test_plasma_with_a_word_nobody_knows_is_asked_about_and_not_offered_again(
    thing: ThingOf,
) -> None:
    read = thing("plasma-xylo 148")
    assert (read.is_understood, read.ask) == (False, WHICH)
    assert "plasma" not in thing("plasma xylo").choices
