"""An order that reads in two ways is loud only where the reading matters."""

from app.cautions.assess import Found
from app.review.assess import Review
from tests.unit.review.conftest import ReviewOf, maintenance


def ambiguity(review: Review) -> Found | None:
    return next((f for f in review.all_found if f.rule.id == "order-ambiguous"), None)


def level(review: Review) -> str | None:
    found = ambiguity(review)
    return found.finding.level if found else None


def test_a_clear_order_asks_nothing(review_of: ReviewOf) -> None:
    assert ambiguity(review_of(maintenance("lactated Ringer's"))) is None


def test_a_name_that_fits_several_is_quiet_where_all_are_alike(review_of: ReviewOf) -> None:
    assert level(review_of(maintenance("Ringers", 60))) == "info"


def test_a_name_that_fits_several_is_loud_where_it_matters(review_of: ReviewOf) -> None:
    review = review_of(maintenance("dextrose saline", 60, volume_ml=500), age_years=6, weight_kg=20)
    found = ambiguity(review)
    assert found is not None
    assert found.finding.level == "warning"
    assert "may mean" in found.finding.summary


def test_a_name_nobody_knows_is_loud(review_of: ReviewOf) -> None:
    review = review_of(maintenance("blue water"))
    assert level(review) == "warning"
    assert "not understood" in ambiguity(review).finding.summary  # type: ignore[union-attr]


def test_no_fluid_at_all_is_loud(review_of: ReviewOf) -> None:
    assert level(review_of({"rate_ml_h": 80, "volume_ml": 1000})) == "warning"


def test_an_additive_without_a_unit_is_loud(review_of: ReviewOf) -> None:
    order = maintenance("0.9% sodium chloride", additives=[{"substance": "KCl", "amount": 20}])
    assert level(review_of(order)) == "warning"


def test_a_rate_that_contradicts_volume_and_time_is_loud(review_of: ReviewOf) -> None:
    review = review_of(maintenance("lactated Ringer's", 250, duration_h=8))
    found = ambiguity(review)
    assert found is not None
    assert found.finding.level == "warning"
    assert "125 mL/h" in found.finding.why


def test_a_bag_that_is_not_quite_emptied_contradicts_nothing(review_of: ReviewOf) -> None:
    order = maintenance("lactated Ringer's", 80, duration_h=12)
    assert ambiguity(review_of(order)) is None


def test_a_very_long_order_is_cut_to_one_line(review_of: ReviewOf) -> None:
    found = ambiguity(review_of(maintenance("blue water " * 30)))
    assert found is not None
    assert len(found.finding.summary) <= 139


def test_a_purpose_nobody_knows_is_quiet(review_of: ReviewOf) -> None:
    assert level(review_of(maintenance("lactated Ringer's", 60, purpose="xyzzy"))) == "info"


TBI = ["traumatic brain injury"]


def test_a_bare_name_in_head_injury_says_in_one_sentence_what_differs(review_of: ReviewOf) -> None:
    review = review_of(maintenance("Ringer's"), conditions=TBI)
    found = ambiguity(review)
    assert found is not None
    assert found.finding.level == "warning"
    assert "5 fluids, and with 4 of them there is a caution: hypotonic" in found.finding.summary
    assert "With any but Ringer's injection: " in found.finding.why
    assert "na-brain" in {one.rule.id for one, _ in review.orders[0].depends}


def test_a_strength_left_out_is_quiet_where_every_strength_is_as_bad(review_of: ReviewOf) -> None:
    review = review_of(maintenance("albumin", volume_ml=500), conditions=TBI)
    assert level(review) == "info"
    albumin = next(f for f in review.all_found if f.rule.id == "alb-tbi")
    assert albumin.finding.why.endswith("Figures are those of 4% human albumin, one it may mean.")


def test_no_fluid_is_named_that_nobody_chose(review_of: ReviewOf) -> None:
    review = review_of({**maintenance("Ringer's"), "purpose": None})
    told = next(f for f in review.all_found if f.rule.id == "ord-indication-missing")
    assert told.finding.summary == "No purpose stated for Ringer's."


def nutrition(**fields: object) -> dict[str, object]:
    return {"fluid": "parenteral nutrition 1350 mosmol/L, calcium 5 mmol", "volume_ml": 2000,
            **fields}  # fmt: skip


def test_nutrition_made_up_in_pharmacy_is_not_asked_about(review_of: ReviewOf) -> None:
    assert level(review_of(nutrition(rate_ml_h=83))) == "info"


def test_an_unclear_rate_of_nutrition_is(review_of: ReviewOf) -> None:
    assert level(review_of(nutrition(rate_text="10 to 80 mL/h"))) == "warning"
