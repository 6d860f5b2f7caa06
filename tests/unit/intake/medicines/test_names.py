"""Drug names as typed: slips, short forms, vague names."""

import pytest

from app.intake.medicines.names import named, plain_names, vague_ask
from app.intake.vocabulary import Vocabulary, plain_words, words_of


@pytest.mark.parametrize(
    ("written", "meant"),
    [("cefriaxone 2 g", "ceftriaxone 2 g"), ("furosamide", "furosemide"),
     ("morfine 2 mg/h", "morphine 2 mg/h"), ("ceftriaxone2g", "ceftriaxone 2g"),
     ("fresh frozen plama", "fresh frozen plasma"), ("platlets", "platelets"),
     ("na 16 mg in 50", "norepinephrine 16 mg in 50"), ("epi 5 mcg/min", "epinephrine 5 mcg/min")],
)  # fmt: skip
def test_a_slip_with_one_name_near_is_mended(
    vocabulary: Vocabulary, written: str, meant: str
) -> None:
    assert plain_names(written, vocabulary) == meant


@pytest.mark.parametrize(
    "written",
    ["cycloserine 250 mg", "vincastine", "protocol infusion", "mgso4 5 g", "na 140",
     "penicillamine"],
)  # fmt: skip
def test_another_drug_two_near_names_and_plain_words_are_left(
    vocabulary: Vocabulary, written: str
) -> None:
    assert plain_names(written, vocabulary) == written


@pytest.mark.parametrize(
    "written",
    ["plasma-xylo 148", "plasma xylo 1 l", "plasma substitute", "plasma expander 500 ml"],
)
def test_plasma_beside_a_word_that_makes_it_a_fluid_is_no_blood_component(
    vocabulary: Vocabulary, written: str
) -> None:
    assert "plasma" not in plain_names(written, vocabulary).split()


@pytest.mark.parametrize(
    "written", ["plasma 2 units", "plasma thawed", "plasma transfusion", "plasma over 30 min"]
)
def test_plasma_beside_words_we_know_is_the_component(vocabulary: Vocabulary, written: str) -> None:
    assert plain_names(written, vocabulary) == written


def test_what_only_looks_like_a_drug_is_cut(vocabulary: Vocabulary) -> None:
    assert plain_names("blood cultures then ceftriaxone", vocabulary).split() == [
        "then", "ceftriaxone"
    ]  # fmt: skip
    assert not plain_names("platelets 45", vocabulary).strip()
    assert plain_names("platelets 1 pool", vocabulary) == "platelets 1 pool"


@pytest.mark.parametrize(
    ("written", "asked"),
    [("iv abx", "Which antibiotic?"), ("ceftriaxone or cefotaxime", "Cefotaxime or ceftriaxone?"),
     ("ceftriaxone 2 g", ""), ("antibiotics: ceftriaxone", "")],
)  # fmt: skip
def test_a_name_that_leaves_open_which_drug_is_asked_about(
    vocabulary: Vocabulary, written: str, asked: str
) -> None:
    words = plain_words(words_of(written))
    assert vague_ask(words, named(vocabulary.drugs.hits(words)), vocabulary) == asked
