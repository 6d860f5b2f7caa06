"""Findings and what was not assessed, as rows a page can print."""

from collections.abc import Callable

from app.catalogue.stock.stock import Stock, StockState
from app.review.assess import Review
from app.review.knowledge import Knowledge
from app.web.advice.findings import (
    FindingView,
    depends_of,
    findings_of,
    offers_of,
    worst_first,
)

Reviewed = Callable[..., Review]
KCL = {"substance": "potassium chloride", "amount": 40, "unit": "mmol"}
SALT = {
    "fluid": "0.9% sodium chloride", "volume_ml": 1000, "rate_ml_h": 125, "additives": [KCL],
    "purpose": "maintenance",
}  # fmt: skip
HIGH = {
    "age_years": 61, "weight_kg": 70,
    "observations": [{"name": "potassium", "value": 6.1, "unit": "mmol/L",
                      "taken_at": "2031-03-04T05:00:00Z"}],
}  # fmt: skip


def high(reviewed: Reviewed, knowledge: Knowledge) -> FindingView:
    views = findings_of(reviewed(HIGH, SALT), knowledge)
    return next(view for view in views if view.rule_id == "k-hyper")


def test_a_finding_says_figures_limits_source_and_what_to_do(
    reviewed: Reviewed, knowledge: Knowledge
) -> None:
    view = high(reviewed, knowledge)
    assert view.level == "critical"
    assert view.do
    assert any(f.value == "6.1 mmol/L" for f in view.figures)
    assert any(f.value == "5.5 mmol/L" and not f.note for f in view.limits)
    assert {s.note for s in view.sources} <= {"text seen", "from memory", ""}
    assert view.why.endswith(".")


def test_a_finding_reads_out_its_order(reviewed: Reviewed, knowledge: Knowledge) -> None:
    (words,) = high(reviewed, knowledge).orders
    assert words.startswith("0.9% sodium chloride with")


def test_a_way_out_is_a_fluid_of_the_catalogue(reviewed: Reviewed, knowledge: Knowledge) -> None:
    ways = high(reviewed, knowledge).ways_out
    assert ways
    assert all(knowledge.catalogue.get(way.fluid_id) for way in ways)
    assert all(way.why for way in ways)


def test_one_cause_is_one_finding(reviewed: Reviewed, knowledge: Knowledge) -> None:
    sick = {**HIGH, "conditions": ["acute kidney injury stage 3"]}
    views = [v for v in findings_of(reviewed(sick, SALT), knowledge) if v.rule_id[:2] == "k-"]
    (view,) = views
    assert view.reasons
    assert {reason.rule_id[:2] for reason in view.reasons} == {"k-"}


def test_findings_of_one_order_leave_out_those_of_another(
    reviewed: Reviewed, knowledge: Knowledge
) -> None:
    plain = {**SALT, "additives": [], "rate_ml_h": 20}
    views = findings_of(reviewed(HIGH, SALT, plain), knowledge, "o2")
    assert "k-hyper" not in {view.rule_id for view in views}


def test_a_finding_that_depends_on_the_fluid_meant_names_it(
    reviewed: Reviewed, knowledge: Knowledge
) -> None:
    low = [{"name": "sodium", "value": 121, "unit": "mmol/L", "taken_at": "2031-03-04T05:00:00Z"}]
    vague = {"fluid": "dextrose saline", "volume_ml": 1000, "rate_ml_h": 100}
    review = reviewed({"age_years": 60, "weight_kg": 70, "observations": low}, vague)
    views = depends_of(review.orders[0], review.case, offers_of(review, knowledge))
    assert views
    assert all(view.only_if for view in views)


def test_the_worst_comes_first(reviewed: Reviewed, knowledge: Knowledge) -> None:
    views = findings_of(reviewed(HIGH, SALT), knowledge)
    levels = [view.level for view in worst_first(reversed(views))]
    assert levels == sorted(levels, key=("critical", "warning", "info").index)


def test_what_cannot_be_had_is_no_way_out_and_its_place_is_said_of_what_can(
    reviewed: Reviewed, knowledge: Knowledge
) -> None:
    usual = high(reviewed, knowledge).ways_out
    assert {way.place for way in usual} == {""}
    told = {usual[0].fluid_id: StockState("out"), usual[1].fluid_id: StockState("in pharmacy")}
    views = findings_of(reviewed(HIGH, SALT), knowledge, stock=Stock(told))
    ways = next(view for view in views if view.rule_id == "k-hyper").ways_out
    assert usual[0].fluid_id not in {way.fluid_id for way in ways}
    assert {way.fluid_id: way.place for way in ways}[usual[1].fluid_id] == "in pharmacy"
