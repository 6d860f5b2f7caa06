"""What is lost, and what is left of it."""

from collections.abc import Callable

from app.catalogue.catalogue import Catalogue
from app.review.shortage.loss import Loss
from tests.unit.review.shortage.conftest import fluid_of

Losing = Callable[..., Loss]


def test_a_whole_fluid_is_lost_in_every_size_and_in_bags_no_label_knows(losing: Losing) -> None:
    loss = losing("sodium-chloride-0.9")
    assert loss.has("sodium-chloride-0.9", 1000)
    assert loss.has("sodium-chloride-0.9", 100)
    assert loss.has("sodium-chloride-0.9", None)
    assert loss.is_whole("sodium-chloride-0.9")
    assert not loss.has("lactated-ringers", 1000)


def test_one_size_is_lost_alone_and_a_size_that_is_not_known_may_be_it(losing: Losing) -> None:
    loss = losing("lactated-ringers@1000")
    assert loss.has("lactated-ringers", 1000)
    assert not loss.has("lactated-ringers", 500)
    assert loss.has("lactated-ringers", None)
    assert not loss.is_whole("lactated-ringers")


def test_the_sizes_left_are_those_not_lost(losing: Losing, catalogue: Catalogue) -> None:
    fluid = fluid_of(catalogue, "lactated-ringers")
    assert losing("lactated-ringers@1000").left_sizes(fluid) == (250, 500)
    assert losing("lactated-ringers").left_sizes(fluid) == ()
    assert losing("sodium-chloride-0.9").left_sizes(fluid) == fluid.pack_sizes_ml


def test_an_address_says_the_fluid_or_each_of_its_sizes(losing: Losing) -> None:
    loss = losing("lactated-ringers@1000", "lactated-ringers@500", "sodium-chloride-0.9")
    assert loss.keys == ("lactated-ringers@500", "lactated-ringers@1000", "sodium-chloride-0.9")
