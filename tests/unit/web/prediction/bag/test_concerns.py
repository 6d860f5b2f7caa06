"""What is not modelled and concerns this patient is said first."""

from collections.abc import Sequence
from dataclasses import replace

from app.catalogue.catalogue import Catalogue
from app.web.prediction.asked import Bag
from app.web.prediction.bag.concerns import concerns
from app.web.prediction.person import Person


def said(catalogue: Catalogue, fluid_id: str, *conditions: str) -> Sequence[str]:
    fluid = catalogue.get(fluid_id)
    assert fluid is not None
    whom = replace(Person(), conditions=frozenset(conditions))
    return concerns(whom, [Bag("A", fluid, 0)], 500)


def test_nothing_is_said_of_a_plain_bag_in_somebody_well(catalogue: Catalogue) -> None:
    assert said(catalogue, "lactated-ringers") == ()


def test_septic_shock_leaks_and_says_so_once(catalogue: Catalogue) -> None:
    found = said(catalogue, "lactated-ringers", "sepsis", "septic_shock")
    assert found == ("Septic shock: vessels leak, so less stays in plasma than shown.",)


def test_after_surgery_water_is_kept(catalogue: Catalogue) -> None:
    (found,) = said(catalogue, "glucose-5", "postoperative")
    assert found.startswith("After surgery water is kept: sodium may fall further.")


def test_no_more_than_three_are_said(catalogue: Catalogue) -> None:
    many = ("septic_shock", "postoperative", "diabetes_insipidus", "tumour_lysis")
    assert len(said(catalogue, "glucose-5", *many)) == 3


def test_a_calcium_injection_is_not_silent(catalogue: Catalogue) -> None:
    (found,) = said(catalogue, "calcium-gluconate-10")
    assert "Calcium, magnesium and phosphate are not drawn" in found


def test_bicarbonate_sets_carbon_dioxide_free(catalogue: Catalogue) -> None:
    assert any("carbon dioxide" in one for one in said(catalogue, "sodium-bicarbonate-8.4"))
