"""The osmolarity of a bag with its additives, and what vein bears it."""

import pytest

from app.catalogue.catalogue import Catalogue
from app.cautions.limits import limits_in_force
from app.cautions.registry import RULES
from app.web.prediction.asked import Bag
from app.web.prediction.bag.vein import VeinLine, vein_lines

IN_FORCE = limits_in_force(RULES)


def line(catalogue: Catalogue, fluid_id: str, potassium_mmol: float = 0) -> VeinLine:
    fluid = catalogue.get(fluid_id)
    assert fluid is not None
    (found,) = vein_lines([Bag("A", fluid, potassium_mmol)], 1000, IN_FORCE)
    return found


# By hand, mOsm/L: 154 + 154; with 2 x 20; 273 with 2 x 40.
@pytest.mark.parametrize(
    ("fluid_id", "potassium", "osmolarity"),
    [
        ("sodium-chloride-0.9", 0, "308"),
        ("sodium-chloride-0.9", 20, "348"),
        ("lactated-ringers", 40, "352"),
    ],
)
def test_what_is_added_counts(
    catalogue: Catalogue, fluid_id: str, potassium: float, osmolarity: str
) -> None:
    found = line(catalogue, fluid_id, potassium)
    assert found.words == f"{osmolarity} mOsm/L calculated: a peripheral vein bears that."


def test_above_the_unit_s_limit_a_central_line_is_named(catalogue: Catalogue) -> None:
    found = line(catalogue, "dextrose-20")
    assert "above 900: a central line." in found.words
    assert found.rule_id == "line-osm-peripheral"


def test_between_the_two_limits_the_site_is_watched(catalogue: Catalogue) -> None:
    found = line(catalogue, "dextrose-10", 60)
    assert "look at the site" in found.words
    assert found.rule_id == "line-osm-irritant"


def test_a_unit_s_own_limit_counts(catalogue: Catalogue) -> None:
    fluid = catalogue.get("dextrose-10")
    assert fluid is not None
    own = {**IN_FORCE["line-osm-peripheral"], "osmolarity_most_mosm_l": 500.0}
    (found,) = vein_lines([Bag("A", fluid, 0)], 1000, {**IN_FORCE, "line-osm-peripheral": own})
    assert "above 500: a central line." in found.words


def test_strong_saline_for_a_rescue_does_not_wait_for_a_central_line(catalogue: Catalogue) -> None:
    found = line(catalogue, "sodium-chloride-3")
    assert "A good peripheral vein will do for a rescue bolus" in found.words
    assert "above 900" not in found.words
    assert found.rule_id == "line-hypertonic-saline"


def test_strong_bicarbonate_is_no_strong_saline(catalogue: Catalogue) -> None:
    assert "rescue" not in line(catalogue, "sodium-bicarbonate-8.4").words


def test_potassium_too_strong_to_be_hung_goes_by_no_vein(catalogue: Catalogue) -> None:
    found = line(catalogue, "sodium-chloride-0.9", 500)
    assert (found.words, found.rule_id) == ("Not by any vein.", "k-concentrate")


def test_two_bags_have_their_marks(catalogue: Catalogue) -> None:
    fluid = catalogue.get("sodium-chloride-0.9")
    assert fluid is not None
    both = vein_lines([Bag("A", fluid, 0), Bag("B", fluid, 20)], 1000, IN_FORCE)
    assert [one.mark for one in both] == ["A", "B"]
