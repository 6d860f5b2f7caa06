"""What is missing is asked for only where an answer would change what to do."""

from app.review.assess import Review
from tests.unit.review.conftest import KCL_20, ReviewOf, loud, maintenance, result, rule_ids

SALINE = "0.9% sodium chloride"
OLD = "2031-03-02T05:00:00Z"
CREATININE = result("creatinine", 80, "umol/L")


def why_of(review: Review, rule_id: str) -> str:
    return " ".join(f.finding.why for f in review.all_found if f.rule.id == rule_id)


def test_added_potassium_without_any_result_asks_for_potassium_and_kidneys(
    review_of: ReviewOf,
) -> None:
    review = review_of(maintenance(SALINE, additives=KCL_20), sex="male")
    assert loud(review) == {"data-missing"}
    assert "potassium" in why_of(review, "data-missing").lower()
    assert "kidneys" in why_of(review, "data-missing")


def test_the_values_missing_stand_in_one_finding(review_of: ReviewOf) -> None:
    review = review_of(maintenance(SALINE, additives=KCL_20), sex="male")
    assert [f.rule.id for f in review.all_found].count("data-missing") == 1


def test_a_bag_without_additives_asks_for_nothing(review_of: ReviewOf) -> None:
    assert not loud(review_of(maintenance("lactated Ringer's")))


def test_nothing_is_asked_when_everything_is_known(review_of: ReviewOf) -> None:
    known = [result("potassium", 4.1), CREATININE]
    review = review_of(maintenance(SALINE, additives=KCL_20), sex="male", observations=known)
    assert not rule_ids(review) & {"data-missing", "data-stale", "data-suspect"}


def test_an_old_potassium_is_stale_for_a_bag_with_potassium(review_of: ReviewOf) -> None:
    old = [result("potassium", 4.1, taken_at=OLD), CREATININE]
    review = review_of(maintenance(SALINE, additives=KCL_20), sex="male", observations=old)
    assert loud(review) == {"data-stale"}
    assert "2 days old" in why_of(review, "data-stale")


def test_an_old_potassium_does_not_matter_to_a_balanced_fluid(review_of: ReviewOf) -> None:
    old = [result("potassium", 4.1, taken_at=OLD)]
    assert "data-stale" not in rule_ids(review_of(maintenance("Hartmann's"), observations=old))


def test_an_impossible_potassium_is_suspect_and_loud_where_potassium_is_added(
    review_of: ReviewOf,
) -> None:
    wrong = [result("potassium", 50), CREATININE]
    review = review_of(maintenance(SALINE, additives=KCL_20), sex="male", observations=wrong)
    assert loud(review) == {"data-suspect"}


def test_an_impossible_value_that_changes_nothing_is_told_quietly(review_of: ReviewOf) -> None:
    review = review_of(maintenance("lactated Ringer's"), observations=[result("potassium", 50)])
    assert "data-suspect" in rule_ids(review)
    assert not loud(review)


def test_free_water_asks_for_sodium(review_of: ReviewOf) -> None:
    review = review_of(maintenance("5% dextrose"))
    assert "sodium" in why_of(review, "data-missing").lower()


def test_a_little_free_water_asks_for_nothing(review_of: ReviewOf) -> None:
    order = {"fluid": "5% dextrose", "rate_ml_h": 10, "volume_ml": 100, "purpose": "carrier"}
    assert not loud(review_of(order))


def test_a_weight_in_pounds_is_questioned_and_not_used(review_of: ReviewOf) -> None:
    review = review_of(
        maintenance("5% dextrose in 0.9% sodium chloride", 60), age_years=6, weight_kg=46
    )
    assert review.case.patient.weight_kg is None
    assert "data-suspect" in loud(review)
    assert "ord-weight-missing" not in rule_ids(review)


def test_a_childs_good_potassium_is_enough_for_routine_potassium(review_of: ReviewOf) -> None:
    order = maintenance(
        "5% dextrose in 0.9% sodium chloride", 50, volume_ml=500, additives=KCL_20[:1]
    )
    order["additives"] = [{"substance": "potassium chloride", "amount": 10, "unit": "mmol"}]
    good = [result("potassium", 4.0), result("sodium", 138)]
    review = review_of(order, age_years=6, weight_kg=20, observations=good, setting="paediatric")
    assert not loud(review)


def test_insulin_with_no_potassium_result_asks_for_it(review_of: ReviewOf) -> None:
    review = review_of(
        {"fluid": SALINE, "rate_ml_h": 250, "volume_ml": 1000, "purpose": "replacement"},
        conditions=["diabetic ketoacidosis"],
        co_infusions=[{"name": "insulin 6 units/h", "kind": "drug"}],
    )
    assert "data-missing" in loud(review)


def test_a_childs_age_is_listed_and_not_asked_for_aloud_where_all_ages_lie(
    review_of: ReviewOf,
) -> None:
    bolus = {"fluid": SALINE, "volume_ml": 600, "duration_h": 0.5, "purpose": "resuscitation"}
    review = review_of(bolus, age_years=None, weight_kg=8, setting="ED")
    assert [(one.need, one.level) for one in review.would_change] == [("age_years", "critical")]
    assert "data-missing" not in rule_ids(review)


def test_what_stops_no_bag_is_listed_and_not_asked_for_aloud(review_of: ReviewOf) -> None:
    order = maintenance(SALINE, 60)
    review = review_of(order, conditions=["urosepsis"], setting="ICU")
    assert {one.need for one in review.would_change} == {"balance_24h_ml", "lactate"}
    assert not loud(review)
