"""What only a central lumen bears, by the rules of the review."""

from app.review.lines.bedside.central import why_central
from app.review.lines.bedside.problem import Means
from tests.unit.review.lines.bedside.conftest import CALCIUM_FLUID, CENTRAL, ONE, PRESSOR, CaseOf


def test_a_usual_fluid_needs_no_central_lumen(case_of: CaseOf, means: Means) -> None:
    case = case_of(CALCIUM_FLUID)
    assert why_central(case.orders[0], case, means.ruleset) == ""


def test_strong_glucose_needs_one_whatever_lumen_is_written(case_of: CaseOf, means: Means) -> None:
    for lumen in ("left hand", "neck"):
        strong = {"id": "o1", "fluid": "20% glucose", "rate_ml_h": 40, "lumen": lumen}
        case = case_of(strong, access=(*ONE, CENTRAL))
        assert "by a peripheral vein" in why_central(case.orders[0], case, means.ruleset)


def test_nutrition_is_judged_by_its_written_osmolarity(case_of: CaseOf, means: Means) -> None:
    for written, needs in (("1,200 mOsm/L", True), ("750 mOsm/L", False)):
        name = f"parenteral nutrition {written} at 80 mL/h"
        case = case_of(co=[{"name": name, "kind": "nutrition"}])
        assert bool(why_central(case.co_infusions[0], case, means.ruleset)) == needs


def test_a_vasoactive_drug_needs_one_only_where_there_is_one(case_of: CaseOf, means: Means) -> None:
    without, with_it = case_of(co=[PRESSOR]), case_of(co=[PRESSOR], access=(*ONE, CENTRAL))
    assert why_central(without.co_infusions[0], without, means.ruleset) == ""
    assert "there is a central lumen" in why_central(
        with_it.co_infusions[0], with_it, means.ruleset
    )
