"""One cause, one row."""

from app.cautions.data_rules import DATA_RULES
from app.cautions.registry import RULES
from app.review.fold import CAUSE_OF, rows_of
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


def test_water_that_harms_in_three_ways_is_one_row_and_each_keeps_its_level(
    review_of: ReviewOf,
) -> None:
    order = maintenance("5% dextrose in 0.2% sodium chloride", 48, volume_ml=500)
    child = {"age_years": 3, "weight_kg": 14, "conditions": ["bacterial meningitis"]}
    reviewed = review_of(order, observations=[result("sodium", 132)], **child)
    water = [row for row in rows_of(reviewed) if row.cause == "na"]
    assert len(water) == 1
    told = {f.rule.id: f.finding.level for f in (water[0].lead, *water[0].reasons)}
    assert told == {
        "na-brain": "critical",
        "na-hypotonic-child": "critical",
        "na-hypotonic-low": "critical",
    }


def test_saline_that_makes_acid_and_brings_chloride_is_one_row(review_of: ReviewOf) -> None:
    acid = [
        result("ph", 7.22, "1"), result("chloride", 118), result("sodium", 141),
        result("bicarbonate", 14), result("pco2", 33, "mmHg"),
    ]  # fmt: skip
    rows = rows_of(review_of(maintenance("0.9% sodium chloride", 100), observations=acid))
    chloride = [r for r in rows if r.lead.rule.id in ("sal-hyperCl-acid", "ord-chloride-total")]
    assert len(chloride) == 1
    ids = {f.rule.id for f in (chloride[0].lead, *chloride[0].reasons)}
    assert ids >= {"sal-hyperCl-acid", "ord-chloride-total"}


def test_every_rule_named_in_a_cause_is_one_we_have() -> None:
    assert set(CAUSE_OF) <= {rule.id for rule in (*RULES, *DATA_RULES)}


def test_every_finding_stands_in_exactly_one_row(review_of: ReviewOf) -> None:
    order = maintenance("0.9% sodium chloride", 150, additives=KCL_20)
    reviewed = review_of(order, observations=HIGH, conditions=AKI)
    told = [f for row in rows_of(reviewed) for f in (row.lead, *row.reasons)]
    assert sorted(map(id, told)) == sorted(map(id, reviewed.all_found))


def test_an_unreadable_rate_and_a_missing_rate_are_one_row(review_of: ReviewOf) -> None:
    order = {"fluid": "0.9% sodium chloride", "volume_ml": 1000, "rate_text": "as directed"}
    rows = [row for row in rows_of(review_of(order)) if row.cause == "what to ask of the writer"]
    assert len(rows) == 1
    assert len(rows[0].reasons) == 1


def test_nothing_found_is_no_row(review_of: ReviewOf) -> None:
    order = {"fluid": "lactated Ringer's", "rate_ml_h": 60, "volume_ml": 500, "purpose": "carrier"}
    assert rows_of(review_of(order)) == ()


def test_a_dialysis_patient_has_one_row_for_the_day_s_load_of_both_orders(
    review_of: ReviewOf,
) -> None:
    saline, water = maintenance("0.9% sodium chloride", 125), maintenance("5% dextrose", 125)
    sick = ["haemodialysis", "heart failure"]
    reviewed = review_of({**saline, "id": "a"}, {**water, "id": "b"}, conditions=sick)
    (row,) = (row for row in rows_of(reviewed) if row.cause == "the day's load")
    told = [f.rule.id for f in (row.lead, *row.reasons)]
    assert told.count("hf-volume") == 2 and "dia-anuric" in told
    assert row.order_ids == ("a", "b")


def test_what_must_be_asked_of_one_order_is_one_row(review_of: ReviewOf) -> None:
    rows = rows_of(review_of({"fluid": "D50W or D20W IV push", "purpose": "low glucose"}))
    (row,) = (row for row in rows if row.lead.finding.level != "info")
    assert {f.rule.id for f in (row.lead, *row.reasons)} == {"ord-rate-missing", "order-ambiguous"}
