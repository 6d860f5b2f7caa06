"""One cause, one row."""

from app.review.fold import rows_of
from tests.unit.review.conftest import KCL_20, ReviewOf, maintenance, result

HIGH = [result("potassium", 6.1), result("creatinine", 420, "umol/L")]
AKI = ["acute kidney injury stage 3"]


def test_several_potassium_findings_of_one_order_are_one_row(review_of: ReviewOf) -> None:
    order = maintenance("0.9% sodium chloride", additives=KCL_20)
    rows = rows_of(review_of(order, observations=HIGH, conditions=AKI))
    potassium = [row for row in rows if row.cause == "k"]
    assert len(potassium) == 1
    assert {f.rule.id for f in (potassium[0].lead, *potassium[0].reasons)} >= {"k-hyper", "k-renal"}


def test_the_worst_reason_leads_and_the_worst_row_stands_first(review_of: ReviewOf) -> None:
    order = maintenance("0.9% sodium chloride", 125, additives=KCL_20)
    rows = rows_of(review_of(order, observations=HIGH, conditions=AKI))
    assert rows[0].lead.finding.level == "critical"
    for row in rows:
        levels = [f.finding.level for f in (row.lead, *row.reasons)]
        assert levels == sorted(levels, key=["critical", "warning", "info"].index)


def test_the_same_cause_on_two_orders_is_two_rows(review_of: ReviewOf) -> None:
    order = maintenance("0.9% sodium chloride", 40, additives=KCL_20)
    reviewed = review_of({**order, "id": "a"}, {**order, "id": "b"}, observations=HIGH)
    rows = [row for row in rows_of(reviewed) if row.lead.rule.id == "k-hyper"]
    assert [row.order_ids for row in rows] == [("a",), ("b",)]


def test_water_sodium_and_chloride_of_one_day_are_one_row(review_of: ReviewOf) -> None:
    rows = rows_of(review_of(maintenance("0.9% sodium chloride", 150)))
    day = [row for row in rows if row.cause == "the day's load"]
    assert len(day) == 1
    assert len(day[0].reasons) == 2


def test_every_finding_stands_in_exactly_one_row(review_of: ReviewOf) -> None:
    order = maintenance("0.9% sodium chloride", 150, additives=KCL_20)
    reviewed = review_of(order, observations=HIGH, conditions=AKI)
    told = [f for row in rows_of(reviewed) for f in (row.lead, *row.reasons)]
    assert sorted(map(id, told)) == sorted(map(id, reviewed.all_found))


def test_an_unreadable_rate_and_a_missing_rate_are_one_row(review_of: ReviewOf) -> None:
    order = {"fluid": "0.9% sodium chloride", "volume_ml": 1000, "rate_text": "as directed"}
    rows = [row for row in rows_of(review_of(order)) if row.cause == "rate"]
    assert len(rows) == 1
    assert len(rows[0].reasons) == 1


def test_nothing_found_is_no_row(review_of: ReviewOf) -> None:
    order = {"fluid": "lactated Ringer's", "rate_ml_h": 60, "volume_ml": 500, "purpose": "carrier"}
    assert rows_of(review_of(order)) == ()
