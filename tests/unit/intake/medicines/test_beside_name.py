"""What the name of something beside the fluids says as a whole."""

import pytest

from app.catalogue.catalogue import Catalogue
from app.intake.fluids import NameBook, name_book
from app.intake.medicines.beside_name import read_name
from app.intake.vocabulary import Vocabulary


@pytest.fixture(scope="module")
def book(catalogue: Catalogue, vocabulary: Vocabulary) -> NameBook:
    """The catalogue's names."""
    return name_book(catalogue, vocabulary)


def test_a_misspelt_drug_by_y_site_is_read_with_how_it_shares(book: NameBook) -> None:
    said = read_name("Cefriaxone 2g y-site w/ Hartmans", book)
    assert (said.key, said.arrangement, said.diluent) == ("ceftriaxone", "together", None)


def test_what_is_stopped_gives_neither_key_nor_rate_to_what_runs(book: NameBook) -> None:
    said = read_name("noradrenaline 5 mL/h stopped, now vasopressin 2 mL/h", book)
    assert (said.key, said.flow.rate_ml_h, said.stands) == ("vasopressin", 2, "runs")
    assert read_name("noradrenaline stopped", book).stands == "ended"


def test_ordered_stands_still_for_blood_alone(book: NameBook) -> None:
    assert read_name("4 units ordered", book, blood=True).stands == "later"
    assert read_name("4 units ordered", book).stands == "runs"


def test_the_drug_itself_names_it_and_not_its_class(book: NameBook) -> None:
    assert read_name("sedation: propofol 10 mL/h", book).key == "propofol"
    assert read_name("sedation 10 mL/h", book).ask


def test_a_plain_fluid_beside_is_read_with_its_rate(book: NameBook) -> None:
    said = read_name("hypertonic saline 3% 30 mL/h", book)
    assert (said.key, said.flow.rate_ml_h) == ("sodium-chloride-3", 30)
