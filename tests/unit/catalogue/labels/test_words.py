"""The words of labels."""

from app.catalogue.labels.words import NAMES, plain, tokens_of
from app.chemistry.salts import SALT_BY_KEY
from app.chemistry.substances import ION_BY_KEY


def test_every_name_is_of_something_the_house_knows() -> None:
    for kind, key in NAMES.values():
        assert kind != "ion" or key in ION_BY_KEY
        assert kind != "salt" or key in SALT_BY_KEY


def test_superscripts_dashes_and_commas_are_made_plain() -> None:
    assert plain("Ca²⁺ 1,35 – 1,000") == "ca2+ 1.35 - 1000"


def test_the_longest_name_counts() -> None:
    kinds = [(t.kind, t.value) for t in tokens_of("calcium chloride dihydrate 0.2 g")]
    assert kinds == [("name", "calcium_chloride"), ("number", "0.2"), ("unit", "g")]


def test_a_letter_within_a_word_is_no_ion() -> None:
    assert [t.kind for t in tokens_of("pack")] == ["text"]
    assert [t.value for t in tokens_of("k 5") if t.kind == "name"] == ["potassium"]
