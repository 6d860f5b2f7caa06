"""All that is known of one thing."""

from app.catalogue.catalogue import Catalogue
from app.catalogue.pairs.fact import STRICTEST_FIRST
from app.intake.fluids import name_book
from app.intake.vocabulary import Vocabulary
from app.review.pairs.things import read_thing
from app.storage.seed_files import read_pair_facts
from app.web.pairs.known import RULED, SIGNS, UNSEEN, KnownOf, known_of


def known(words: str, catalogue: Catalogue, vocabulary: Vocabulary) -> KnownOf:
    thing = read_thing("", words, name_book(catalogue, vocabulary))
    return known_of(thing, read_pair_facts().facts, catalogue)


def test_every_answer_has_its_own_sign() -> None:
    assert set(SIGNS) == set(STRICTEST_FIRST)
    assert len(set(SIGNS.values())) == len(SIGNS)


def test_facts_that_name_it_come_first_then_rules_and_the_strictest_of_each(
    catalogue: Catalogue, vocabulary: Vocabulary
) -> None:
    told = known("amiodarone", catalogue, vocabulary)
    assert told.heading == "What is known of amiodarone"
    (first, own), (second, ruled) = told.groups
    assert (first, second) == ("", RULED)
    assert all("amiodarone" in line.sentence.lower() for line in own)
    assert any(line.sentence.startswith("Keep phenytoin and any drug apart") for line in ruled)
    drawn = [*SIGNS.values(), UNSEEN]
    order = [drawn.index(line.sign) for line in own]
    assert order == sorted(order)
    assert "may" not in {line.sign for line in own}, "all of these are from memory"
    heparin = next(line for line in own if "heparin" in line.sentence)
    assert heparin.href == "/co-infusion?thing=amiodarone&thing=heparin"
    assert heparin.seen.startswith("By Y-site: label statement. Amiodarone label")


def test_calcium_is_known_of_every_fluid_that_holds_it(
    catalogue: Catalogue, vocabulary: Vocabulary
) -> None:
    told = known("Ringer's acetate", catalogue, vocabulary)
    ruled = next(lines for heading, lines in told.groups if heading == RULED)
    assert any("ceftriaxone and anything that holds calcium" in line.sentence for line in ruled)


def test_words_that_are_no_thing_are_sought_in_the_facts(
    catalogue: Catalogue, vocabulary: Vocabulary
) -> None:
    told = known("crystals", catalogue, vocabulary)
    assert told.heading == "Facts in which “crystals” stands"
    ((_, lines),) = told.groups
    assert all("crystals" in line.sentence for line in lines)
    assert known("moon juice", catalogue, vocabulary).groups == ()
