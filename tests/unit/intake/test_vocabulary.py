"""Words folded to one spelling, and phrases found longest first."""

import pytest

from app.intake.vocabulary import Meaning, Phrases, Vocabulary, fold, plain_words, words_of

TRADE_NAMES_ARE_LEFT_OUT = ("®", "™")


@pytest.mark.parametrize(
    ("written", "folded"),
    [
        ("Ringer’s  Lactate", "ringers lactate"), ("Hartmann's", "hartmanns"), ("½NS", "1/2 ns"),
        ("0·9 %", "0.9 %"), ("0,9%", "0.9%"), ("5 µmol", "5 umol"), ("75–125", "75-125"),
    ],
)  # fmt: skip
def test_a_text_has_one_spelling(written: str, folded: str) -> None:
    assert fold(written) == folded


def test_hyphens_only_part_words() -> None:
    assert plain_words(words_of("half-normal")) == ("half", "normal")


def test_the_longest_phrase_wins() -> None:
    phrases = Phrases([("diabetes", Meaning("diabetes")), ("diabetes insipidus", Meaning("di"))])
    words = words_of("diabetes insipidus")
    assert [hit.meaning.key for hit in phrases.hits(words)] == ["di"]


@pytest.mark.parametrize("table", ["conditions", "drugs", "fluids", "analytes"])
def test_no_phrase_has_two_meanings(vocabulary: Vocabulary, table: str) -> None:
    name, entry = {
        "conditions": ("conditions", "condition"), "drugs": ("drugs", "drug"),
        "fluids": ("fluids", "name"), "analytes": ("observations", "analyte"),
    }[table]  # fmt: skip
    meanings: dict[tuple[str, ...], str] = {}
    for key, row in vocabulary.tables[name][entry].items():
        for phrase in row.get("words", ()):
            plain = plain_words(words_of(phrase))
            assert meanings.setdefault(plain, key) == key, phrase


def test_every_key_that_follows_is_a_key_of_its_own(vocabulary: Vocabulary) -> None:
    conditions = vocabulary.tables["conditions"]["condition"]
    for key, row in conditions.items():
        assert set(row.get("also", ())) <= set(conditions), key


def test_every_salt_named_is_one_the_chemistry_knows(vocabulary: Vocabulary) -> None:
    from app.chemistry.salts import SALT_BY_KEY

    for table, entry in (("drugs", "drug"), ("fluids", "name")):
        for key, row in vocabulary.tables[table][entry].items():
            assert row.get("salt", "glucose") in SALT_BY_KEY, key


def test_what_was_made_once_is_kept(vocabulary: Vocabulary) -> None:
    first = vocabulary.keep("a test", "key", lambda: object())
    assert vocabulary.keep("a test", "key", lambda: object()) is first


def test_every_loinc_code_passes_its_check_digit(vocabulary: Vocabulary) -> None:
    for code in vocabulary.loinc:
        digits, check = code.split("-")
        odd = str(2 * int(digits[::-1][::2][::-1]))
        total = sum(map(int, odd + digits[::-1][1::2]))
        assert (10 - total % 10) % 10 == int(check), code
