"""How each drug of a text stands."""

import pytest

from app.intake.medicines.clauses import clauses_of, standing_of, without_dead
from app.intake.vocabulary import Vocabulary


def running(text: str, vocabulary: Vocabulary) -> set[str]:
    """The keys of what the text says runs."""
    clauses = clauses_of(text, vocabulary)
    return {hit.meaning.key for c in clauses if c.stands == "runs" for hit in c.hits}


@pytest.mark.parametrize(
    ("written", "keys"),
    [
        ("ramipril (held), furosemide 40 mg", {"furosemide"}),
        ("ramipril and spironolactone held", set()),
        ("stopped ramipril and spironolactone", set()),
        ("ramipril held and furosemide continues", {"furosemide"}),
        ("furosemide (spironolactone stopped)", {"furosemide"}),
        ("no ramipril, losartan or ibuprofen", set()),
        ("no ibuprofen, ramipril", {"ramipril"}),
        ("held: ramipril", set()), ("ramipril - held aki", set()),
        ("furosemide restarted today (was held)", {"furosemide"}),
        ("co-amoxiclav changed to meropenem", {"meropenem"}),
        ("meropenem instead of ceftriaxone", {"meropenem"}),
        ("metformin & gliclazide - omitted today", set()),
        ("ceftriaxone (allergy: vancomycin)", {"ceftriaxone"}),
        ("meropenem (no allergies)", {"meropenem"}),
        ("ceftriaxone 2 g (cultures sent 2 days ago)", {"ceftriaxone"}),
        ("ceftriaxone with fluids paused", {"ceftriaxone"}),
        ("ceftriaxone, hartmanns stopped", {"ceftriaxone"}),
        ("epidural bupivacaine + fentanyl", set()),
        ("ceftriaxone, lisinopril po", {"ceftriaxone"}),
    ],
)  # fmt: skip
def test_a_statement_reaches_the_drugs_it_is_made_of(
    vocabulary: Vocabulary, written: str, keys: set[str]
) -> None:
    assert running(written, vocabulary) == keys


def test_what_is_dead_is_cut_and_the_rest_stays_as_written(vocabulary: Vocabulary) -> None:
    text = "ceftriaxone stopped, changed to meropenem 1 g tds"
    clauses = clauses_of(text, vocabulary)
    assert standing_of(clauses) == "runs"
    assert without_dead(text, clauses).split() == [
        ",",
        "changed",
        "to",
        "meropenem",
        "1",
        "g",
        "tds",
    ]


def test_a_whole_that_does_not_run_says_why(vocabulary: Vocabulary) -> None:
    assert standing_of(clauses_of("insulin infusion off since 04:00", vocabulary)) == "ended"
    assert standing_of(clauses_of("ng feed 60 ml/h", vocabulary)) == "elsewhere"
    assert standing_of(clauses_of("2 units cross-matched", vocabulary, blood=True)) == "later"
    assert standing_of(clauses_of("moonlight 5 ml/h", vocabulary)) == "runs"


def test_nutrition_by_vein_stays_so_beside_a_tube_feed(vocabulary: Vocabulary) -> None:
    assert running("weaning pn 40 ml/h as ng feed up", vocabulary) == {"parenteral_nutrition"}
