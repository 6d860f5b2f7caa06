"""A card lists the rules that a fluid itself wakes."""

import pytest

from app.catalogue.fluid import Fluid
from app.review.knowledge import Knowledge
from app.web.fluids.cautions import cautions_of


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    return Knowledge.from_seed()


def ids(knowledge: Knowledge, fluid_id: str) -> set[str]:
    fluid = knowledge.catalogue.get(fluid_id)
    assert isinstance(fluid, Fluid)
    return {rule.id for rule in cautions_of(fluid, knowledge)}


def test_potassium_in_the_bag_wakes_the_rule_on_high_potassium(knowledge: Knowledge) -> None:
    assert "k-hyper" in ids(knowledge, "potassium-chloride-20-sodium-chloride-0.9")


def test_a_bag_without_potassium_does_not(knowledge: Knowledge) -> None:
    assert "k-hyper" not in ids(knowledge, "sodium-chloride-0.45")


def test_rules_about_how_an_order_is_written_are_left_out(knowledge: Knowledge) -> None:
    for fluid in knowledge.catalogue:
        rules = {rule.id.partition("-")[0] for rule in cautions_of(fluid, knowledge)}
        assert not rules & {"ord", "order", "data"}, fluid.id
