"""The answer about two things: verdict, every fact behind it, which counts and why."""

from collections.abc import Callable
from datetime import UTC, date, datetime

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.pairs.answer import NOBODY, NOTED, SAME, PairBook, facts_of
from app.catalogue.pairs.local_note import LocalNote, notes_on
from app.catalogue.pairs.reading import pair_facts_from
from app.catalogue.pairs.substance import (
    Substance,
    bag_of,
    drug_substance,
    fluid_substance,
    made_up_in,
)
from app.storage.seed_files import read_pair_facts

Named = Callable[[str], Substance]
TODAY = date(2031, 3, 4)
CEFTRIAXONE = drug_substance("ceftriaxone", {"cephalosporin", "antibiotic"})
MEROPENEM, FUROSEMIDE = drug_substance("meropenem"), drug_substance("furosemide")
MEMORY = {"verdict": "may run together", "source": "memory"}


@pytest.fixture(scope="module")
def book() -> PairBook:
    """The facts as shipped, with no local note."""
    return PairBook(read_pair_facts())


@pytest.fixture
def fluid(catalogue: Catalogue) -> Named:
    def of(fluid_id: str) -> Substance:
        found = catalogue.get(fluid_id)
        assert found is not None
        return fluid_substance(found)

    return of


def note(a: str, b: str, review_on: date = date(2031, 9, 1)) -> LocalNote:
    signed = datetime(2031, 3, 1, tzinfo=UTC)
    return LocalNote(a, b, "seen here", "by Y-site", "R.A.", "pharmacist", signed, review_on, 1)


def with_note(book: PairBook, *notes: LocalNote, on: date = TODAY) -> PairBook:
    return PairBook(book.facts, notes_on(notes, on))


def test_no_data_is_an_answer_of_its_own_and_keeps_them_apart(book: PairBook) -> None:
    answer = facts_of(book, MEROPENEM, FUROSEMIDE)
    assert (answer.verdict, answer.is_apart, answer.decisive.why) == ("no data", True, NOBODY)
    assert answer.decisive.counts is None
    assert answer.gaps == answer.parts


@pytest.mark.parametrize("fluid_id", ["lactated-ringers", "ringers-acetate", "gelatin-4-balanced"])
def test_calcium_is_one_fact_for_every_fluid_that_holds_it(
    book: PairBook,
    fluid: Named,
    fluid_id: str,
) -> None:
    answer = facts_of(book, CEFTRIAXONE, fluid(fluid_id))
    assert (answer.verdict, answer.scope) == ("in turn", "lumen")
    counts = answer.decisive.counts
    assert counts is not None
    assert (counts.b, counts.population) == ("calcium", "past 28 days")


def test_a_newborn_is_barred_from_ceftriaxone_with_calcium_altogether(
    book: PairBook,
    fluid: Named,
) -> None:
    for holds in (fluid("lactated-ringers"), drug_substance("calcium_gluconate", {"calcium"})):
        answer = facts_of(book, holds, CEFTRIAXONE, newborn=True)
        assert (answer.verdict, answer.scope) == ("keep apart", "patient")
        older = facts_of(book, holds, CEFTRIAXONE)
        assert (older.verdict, older.scope) == ("in turn", "lumen")
        assert any(f.population == "newborn" for f in older.decisive.facts)


def test_where_sources_differ_all_are_behind_it_and_it_says_which_was_taken(
    book: PairBook,
) -> None:
    part = facts_of(book, drug_substance("insulin"), drug_substance("norepinephrine")).decisive
    assert part.verdict == "keep apart"
    assert [f.verdict for f in part.facts] == ["keep apart", "may run together"]
    assert part.why == "The sources differ: of 2 facts the strictest counts."


def test_a_general_rule_says_that_it_is_one(book: PairBook) -> None:
    part = facts_of(book, drug_substance("alteplase"), MEROPENEM).decisive
    assert (part.verdict, part.why) == ("keep apart", "It is a general rule; no fact names both.")


def test_the_fact_that_names_both_goes_before_the_rule(book: PairBook, fluid: Named) -> None:
    part = facts_of(book, drug_substance("amphotericin_b"), fluid("dextrose-5")).decisive
    assert part.verdict == "may run together"
    assert part.why == "Of 2 facts the one that names the two most closely counts."


def test_what_was_seen_by_y_site_goes_before_what_is_said_of_the_bag() -> None:
    bag = {"a": "x", "b": "y", "verdict": "keep apart", "contact": "same bag", "source": "label"}
    y_site = {**bag, "verdict": "only if", "contact": "Y-site"}
    book = PairBook(pair_facts_from([{"pair": [bag, y_site]}]))
    part = facts_of(book, drug_substance("x"), drug_substance("y")).decisive
    assert part.verdict == "only if"
    assert part.why.startswith("What was seen by Y-site counts")
    assert {f.verdict for f in part.facts} == {"only if", "keep apart"}


def test_where_the_label_forbids_and_practice_allows_the_label_counts(
    book: PairBook, fluid: Named
) -> None:
    part = facts_of(book, drug_substance("amiodarone"), fluid("sodium-chloride-0.9")).decisive
    assert (part.verdict, part.may_be_signed) == ("keep apart", False)
    assert {f.verdict for f in part.facts} == {"only if", "keep apart"}


@pytest.mark.parametrize(
    "concentrate", ["potassium-chloride-concentrate", "sodium-chloride-23.4", "sterile-water"]
)
def test_a_concentrate_or_water_is_never_hung_beside_anything(
    book: PairBook, fluid: Named, concentrate: str
) -> None:
    for other in (fluid("compound-sodium-lactate"), drug_substance("norepinephrine")):
        part = facts_of(book, fluid(concentrate), other).decisive
        assert (part.verdict, part.may_be_signed) == ("keep apart", False)
        assert part.counts is not None
        assert "never hung" in part.counts.mechanism


def test_what_is_known_to_harm_is_told_of_a_concentrate_too(book: PairBook, fluid: Named) -> None:
    part = facts_of(book, fluid("magnesium-sulfate-50"), drug_substance("calcium_gluconate"))
    assert part.decisive.counts is not None
    assert "calcium sulfate" in part.decisive.counts.mechanism


def test_a_drug_made_up_in_water_is_asked_about_as_made_up(book: PairBook, fluid: Named) -> None:
    made = made_up_in(drug_substance("milrinone"), fluid("sterile-water"))
    assert facts_of(book, made, drug_substance("norepinephrine")).verdict == "may run together"


def test_two_of_one_kind_are_no_two_bags_of_one_thing(book: PairBook) -> None:
    for word in ("calcium", "opioid", "blood"):
        one = Substance(frozenset({word}), key=word)
        assert facts_of(book, one, one).is_apart


def test_of_facts_that_say_the_same_the_seen_one_counts() -> None:
    told = {"a": "x", "b": "y", "verdict": "may run together"}
    pairs = [{**told, "source": "memory"}, {**told, "source": "label", "seen": True}]
    part = facts_of(
        PairBook(pair_facts_from([{"pair": pairs}])), drug_substance("x"), drug_substance("y")
    ).decisive
    assert part.counts is not None
    assert part.counts.source.work == "label"


def test_two_bags_of_one_thing_may_run_together_whatever_a_rule_about_any_drug_says(
    book: PairBook,
    fluid: Named,
) -> None:
    phenytoin = drug_substance("phenytoin")
    assert facts_of(book, phenytoin, phenytoin).decisive.why == SAME
    assert facts_of(book, fluid("albumin-5"), fluid("albumin-20")).verdict == "may run together"


def test_two_plain_fluids_may_run_together_and_bicarbonate_is_none(
    book: PairBook,
    fluid: Named,
) -> None:
    ringers = fluid("lactated-ringers")
    assert facts_of(book, ringers, fluid("sodium-chloride-0.9")).verdict == "may run together"
    assert facts_of(book, ringers, fluid("sodium-bicarbonate-1.4")).verdict == "keep apart"
    assert facts_of(book, ringers, fluid("gelatin-4")).verdict == "no data"


def test_the_strictest_part_of_a_bag_decides_and_every_part_is_told(
    book: PairBook,
    fluid: Named,
) -> None:
    salt = drug_substance("potassium_chloride", {"potassium"})
    bag = bag_of(fluid("dextrose-5"), [salt])
    answer = facts_of(book, drug_substance("norepinephrine", {"vasoactive"}), bag)
    assert [part.verdict for part in answer.parts] == ["may run together", "may run together"]
    meropenem = facts_of(
        book, drug_substance("vasopressin"), bag_of(fluid("dextrose-5"), [MEROPENEM])
    )
    assert meropenem.verdict == "no data"
    assert [part.other.key for part in meropenem.gaps] == ["meropenem"]


def test_a_carrier_speaks_only_where_it_may_never_meet(book: PairBook, fluid: Named) -> None:
    in_saline = made_up_in(MEROPENEM, fluid("sodium-chloride-0.9"))
    assert [p.other.key for p in facts_of(book, FUROSEMIDE, in_saline).parts] == ["meropenem"]
    parts = facts_of(book, drug_substance("amphotericin_b"), in_saline).parts
    assert {p.other.key for p in parts} == {"meropenem", "sodium-chloride-0.9"}


def test_a_signed_note_settles_a_pair_without_data_until_its_review_date(book: PairBook) -> None:
    signed = note("furosemide", "meropenem")
    answer = facts_of(with_note(book, signed), MEROPENEM, FUROSEMIDE)
    assert (answer.verdict, answer.is_apart, answer.decisive.why) == (
        "may run together", False, NOTED,
    )  # fmt: skip
    assert answer.decisive.note is signed
    assert answer.gaps == ()
    late = facts_of(with_note(book, signed, on=date(2031, 9, 2)), MEROPENEM, FUROSEMIDE)
    assert (late.verdict, late.decisive.note, late.decisive.notes) == ("no data", None, (signed,))
    assert late.decisive.may_be_signed


def test_a_note_settles_a_condition_too_and_never_what_is_known_to_harm(
    book: PairBook,
    fluid: Named,
) -> None:
    saline, norepinephrine = fluid("sodium-chloride-0.9"), drug_substance("norepinephrine")
    assert facts_of(book, norepinephrine, saline).is_apart
    signed = with_note(book, note("norepinephrine", "sodium-chloride-0.9"))
    assert not facts_of(signed, norepinephrine, saline).is_apart
    milrinone = drug_substance("milrinone")
    forbidden = facts_of(with_note(book, note("milrinone", "furosemide")), milrinone, FUROSEMIDE)
    assert (forbidden.verdict, forbidden.decisive.may_be_signed) == ("keep apart", False)


def test_a_fact_about_newborns_alone_says_nothing_of_others() -> None:
    entry = {"a": "x", "b": "y", "population": "newborn", "source": "s", "verdict": "keep apart"}
    book = PairBook(pair_facts_from([{"pair": [entry]}]))
    answer = book.answer(drug_substance("x"), drug_substance("y"))
    assert (answer.verdict, answer.decisive.counts) == ("no data", None)
    assert len(answer.decisive.facts) == 1
    own = book.answer(drug_substance("x"), drug_substance("y"), newborn=True)
    assert (own.verdict, own.decisive.why) == ("keep apart", "The fact about newborns counts.")


def test_facts_that_agree_are_counted_and_one_alone_says_so() -> None:
    rows = [{"a": "x", "b": "y", **MEMORY}, {"a": "y", "b": "x", **MEMORY, "source": "other"}]
    agreed = PairBook(pair_facts_from([{"pair": rows}]))
    assert agreed.answer(drug_substance("x"), drug_substance("y")).decisive.why == (
        "The 2 facts say the same."
    )
    alone = PairBook(pair_facts_from([{"pair": rows[:1]}]))
    assert alone.answer(drug_substance("x"), drug_substance("y")).decisive.why == (
        "It is the only fact we have of the two."
    )
