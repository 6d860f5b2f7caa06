"""What is given is told with its pace, rounded once."""

from app.catalogue.catalogue import Catalogue
from app.web.prediction.asked import Asked, Bag, Then
from app.web.prediction.start.given import given_of, then_words


def bag(catalogue: Catalogue, potassium_mmol: float = 0) -> Bag:
    fluid = catalogue.get("sodium-chloride-0.9")
    assert fluid is not None
    return Bag("A", fluid, potassium_mmol)


def test_a_bag_is_told_with_its_time_and_potassium(catalogue: Catalogue) -> None:
    one = bag(catalogue, 20)
    told = given_of(one, Asked((one,), volume_ml=500, minutes=59.9999999))
    assert told.pace == "500 mL over 1 h, 500 mL/h; potassium 20 mmol/h"
    assert told.fluid == "0.9% sodium chloride"
    assert told.check.endswith("additive=potassium+chloride&amount=20&unit=mmol")


def test_what_follows_is_told_the_same_way(catalogue: Catalogue) -> None:
    one = bag(catalogue)
    asked = Asked((one,), volume_ml=500, minutes=60, then=Then(one, 1000, 480))
    assert then_words(asked) == "0.9% sodium chloride, 1,000 mL over 8 h, 125 mL/h"
    assert then_words(Asked((one,))) == ""
