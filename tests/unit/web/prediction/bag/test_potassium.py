"""Potassium in words: by hour, weight and litre, the unit's limits, and when to look again."""

from dataclasses import replace
from types import MappingProxyType

import pytest

from app.catalogue.catalogue import Catalogue
from app.cautions.limits import limits_in_force
from app.cautions.registry import RULES
from app.web.prediction.asked import Bag
from app.web.prediction.bag.potassium import PotassiumWords, potassium_words
from app.web.prediction.person import Person

IN_FORCE = limits_in_force(RULES)
ADULT = Person(weight_kg=70, age_years=50, sex="male", results=MappingProxyType({}))


def words(
    catalogue: Catalogue, *mmol: float, whom: Person = ADULT, minutes: float = 480
) -> PotassiumWords | None:
    fluid = catalogue.get("sodium-chloride-0.9")
    assert fluid is not None
    bags = [Bag(mark, fluid, salt) for mark, salt in zip("AB", mmol, strict=False)]
    return potassium_words(bags, 1000, minutes, (whom, whom.subject()), IN_FORCE)


# By hand: mmol in a litre over its hours, by 70 kg.
@pytest.mark.parametrize(
    ("mmol", "minutes", "said"),
    [
        (20, 480, "2.5 mmol/h, 0.04 mmol/kg/h, at 20 mmol/L in the bag."),
        (40, 480, "5 mmol/h, 0.07 mmol/kg/h, at 40 mmol/L in the bag."),
        (40, 240, "10 mmol/h, 0.14 mmol/kg/h, at 40 mmol/L in the bag."),
        (60, 120, "30 mmol/h, 0.43 mmol/kg/h, at 60 mmol/L in the bag."),
    ],
)
def test_what_a_bag_gives(catalogue: Catalogue, mmol: float, minutes: float, said: str) -> None:
    found = words(catalogue, mmol, minutes=minutes)
    assert found is not None
    assert found.lines == (said,)


def test_two_bags_are_told_apart_and_none_is_said_to_be_none(catalogue: Catalogue) -> None:
    found = words(catalogue, 0, 20)
    assert found is not None
    assert found.lines[0] == "A: none."
    assert found.lines[1].startswith("B: 2.5 mmol/h")
    assert words(catalogue, 0, 0) is None


def test_a_balanced_fluid_is_worth_a_word_where_plasma_potassium_is(catalogue: Catalogue) -> None:
    fluid = catalogue.get("lactated-ringers")
    assert fluid is not None

    def said(plasma: float) -> PotassiumWords | None:
        whom = replace(ADULT, results={"potassium": plasma})
        of = (whom, whom.subject())
        return potassium_words([Bag("A", fluid, 0)], 1000, 480, of, IN_FORCE)

    assert said(4.2) is None
    assert said(5.9) is not None


def test_the_unit_s_limits_are_an_adult_s_or_a_child_s_by_weight(catalogue: Catalogue) -> None:
    adult = words(catalogue, 20)
    child = words(catalogue, 20, whom=replace(ADULT, age_years=6, weight_kg=20))
    assert adult is not None
    assert child is not None
    assert "at most 10 mmol/h without ECG monitoring and 20 mmol/h with it" in adult.by_hour
    assert "at most 4 mmol/h without ECG monitoring and 8 mmol/h with it" in child.by_hour
    assert "45 mmol/L on a ward" in adult.by_vein


@pytest.mark.parametrize(
    ("mmol", "plasma", "again"),
    [
        (20, 4.0, ""),
        (20, 3.5, ""),
        (20, 3.4, "Potassium again in 4 h: it is 3.4 mmol/L."),
        (20, 5.5, "Potassium again in 4 h: it is 5.5 mmol/L."),
        (100, 4.0, "Potassium again in 2 h: faster than usual."),
        (100, 6.8, "Potassium again in 2 h: it is 6.8 mmol/L, and this is faster than usual."),
    ],
)
def test_when_it_is_measured_again(
    catalogue: Catalogue, mmol: float, plasma: float, again: str
) -> None:
    found = words(catalogue, mmol, whom=replace(ADULT, results={"potassium": plasma}))
    assert found is not None
    assert found.again == again


FAILING = replace(
    ADULT,
    results=MappingProxyType({"potassium": 6.1}),
    conditions=frozenset({"severe_kidney_failure"}),
)


def test_where_kidneys_fail_a_high_potassium_is_not_said_to_fall(catalogue: Catalogue) -> None:
    plain, salted = words(catalogue, 0, whom=FAILING), words(catalogue, 40, whom=FAILING)
    assert plain is not None
    assert salted is not None
    assert plain.lead.startswith("Kidneys fail: count on at least 6.1 mmol/L, and rising.")
    assert salted.lead.startswith("Do not run this bag. Kidneys fail")
    assert plain.again == (
        "Potassium and ECG now, potassium again in 1 to 2 h: it is 6.1 mmol/L, kidneys fail."
    )


def test_scant_urine_counts_as_failing_and_a_lower_potassium_does_not(catalogue: Catalogue) -> None:
    scant = replace(FAILING, conditions=frozenset(), urine_ml_h=5)
    lower = replace(FAILING, results={"potassium": 5.4})
    found, calm = words(catalogue, 40, whom=scant), words(catalogue, 40, whom=lower)
    assert found is not None
    assert calm is not None
    assert found.lead
    assert calm.lead == ""


def test_of_two_bags_only_the_one_with_potassium_is_not_run(catalogue: Catalogue) -> None:
    found = words(catalogue, 0, 20, whom=FAILING)
    assert found is not None
    assert found.lead.startswith("Do not run B.")
