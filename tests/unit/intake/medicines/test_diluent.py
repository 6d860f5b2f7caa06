"""What a drug is made up in."""

import pytest

from app.catalogue.catalogue import Catalogue
from app.intake.fluids import name_book
from app.intake.medicines.diluent import carrier, diluted, fluid_itself, marks_of
from app.intake.vocabulary import Vocabulary


@pytest.mark.parametrize(
    ("written", "head", "fluid", "volume_ml"),
    [
        ("vancomycin 1 g in 250 over 2 h", "vancomycin 1 g", None, 250),
        ("phenytoin 1.2 g in 250 ns over 1 h", "phenytoin 1.2 g", "sodium-chloride-0.9", 250),
        ("norepinephrine 4 mg in 50 ml glucose 5% 3 ml/h", "norepinephrine 4 mg", "glucose-5", 50),
        ("paracetamol 1 g/100 ml", "paracetamol 1 g/100 ml", None, 100),
        ("insulin 100 units/100 ml in ns premix", "insulin 100 units/100 ml", None, 100),
        ("ceftriaxone 2 g in left hand", "ceftriaxone 2 g in left hand", None, None),
        ("morphine 1 mg/ml", "morphine 1 mg/ml", None, None),
    ],
)
def test_the_bag_of_a_drug_is_read(  # noqa: PLR0913 - two fixtures and a row
    catalogue: Catalogue, vocabulary: Vocabulary, written: str, head: str, fluid: str | None,
    volume_ml: float | None,
) -> None:  # fmt: skip
    drug, diluent, volume = diluted(written, name_book(catalogue, vocabulary))
    assert volume == volume_ml
    if fluid:
        assert (drug.strip(), diluent and diluent.id) == (head, fluid)


def test_a_fluid_named_as_a_drug_is_that_fluid(
    catalogue: Catalogue, vocabulary: Vocabulary
) -> None:
    book = name_book(catalogue, vocabulary)
    albumin = fluid_itself("albumin", "albumin 20% 100 ml", book)
    assert albumin.fluid is not None and albumin.fluid.id == "albumin-20"
    assert fluid_itself("ceftriaxone", "ceftriaxone", book).fluid is None
    ringers = carrier("lactated ringers at 50 ml/h", book).fluid
    assert ringers is not None and {"calcium", "potassium", "lactate"} <= marks_of(ringers)
