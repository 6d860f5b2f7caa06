"""The things a page was asked about."""

from app.catalogue.catalogue import Catalogue
from app.intake.fluids import name_book
from app.intake.read import read_case
from app.intake.vocabulary import Vocabulary
from app.review.pairs.things import read_thing
from app.web.pairs.asked import MOST_THINGS, address, address_of, fields_of, words_asked
from tests.conftest import NOW


def test_each_thing_is_asked_about_once_and_blanks_not_at_all() -> None:
    assert words_asked(["LR", " ", "", "LR", " red   cells "]) == ("LR", "red cells")
    assert len(words_asked([str(n) for n in range(20)])) == MOST_THINGS


def test_an_address_leads_back_to_the_same_words() -> None:
    assert address([]) == "/co-infusion"
    assert address(["5% dextrose", "CTX"]) == "/co-infusion?thing=5%25+dextrose&thing=CTX"


def test_the_form_has_a_blank_field_more_and_no_more_than_the_page_takes(
    catalogue: Catalogue, vocabulary: Vocabulary
) -> None:
    book = name_book(catalogue, vocabulary)
    things = [read_thing("", words, book) for words in ("LR", "ringers", "abx")]
    fields = fields_of(things)
    assert [field.value for field in fields] == ["LR", "ringers", "abx", ""]
    assert fields[1].choices[0].href == (
        "/co-infusion?thing=LR&thing=lactated+Ringer%27s+%28US%29&thing=abx"
    )
    assert fields[2].error == "“abx” is not understood. Which antibiotic?"
    assert [field.value for field in fields_of(())] == ["", "", ""]
    assert len(fields_of(things * 3)[:MOST_THINGS]) == MOST_THINGS


def test_a_patient_leads_to_everything_that_runs(
    catalogue: Catalogue, vocabulary: Vocabulary
) -> None:
    request = {
        "patient": {"age_years": 60},
        "orders": [{"fluid": "LR", "rate_ml_h": 80}],
        "co_infusions": [{"name": "insulin 2 units/h", "kind": "drug"}],
    }
    case = read_case(request, catalogue=catalogue, vocabulary=vocabulary, now=NOW)
    assert address_of(case) == "/co-infusion?thing=lactated+Ringer%27s&thing=insulin"
    alone = read_case(
        {**request, "co_infusions": []}, catalogue=catalogue, vocabulary=vocabulary, now=NOW
    )
    assert address_of(alone) == ""
