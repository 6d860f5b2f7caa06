"""The reply of the outside interface."""

import json

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.stock.stock import Stock, StockState
from app.catalogue.vehicles.vehicle import Vehicles
from app.cautions.assess import Ruleset
from app.review.reply import reply_of, rounded
from tests.conftest import NOW
from tests.unit.review.conftest import KCL_20, ReviewOf, maintenance, result

FINDING_KEYS = {
    "rule_id", "level", "title", "detail", "figures", "limit", "source", "do", "alternatives",
}  # fmt: skip
LOADS = {
    "water_ml_per_day", "sodium_mmol_per_day", "potassium_mmol_per_day", "chloride_mmol_per_day",
    "glucose_g_per_day", "potassium_mmol_h", "glucose_mg_kg_min",
}  # fmt: skip
AILING = {
    "conditions": ["acute kidney injury stage 3", "purple spots"],
    "observations": [result("potassium", 5.9), result("glucose", 180, "mg/dL")],
    "sex": "female",
}


@pytest.fixture
def reply(
    review_of: ReviewOf, catalogue: Catalogue, ruleset: Ruleset, vehicles: Vehicles
) -> dict[str, object]:
    order = maintenance("lactated Ringer's", 125, id="o1", additives=KCL_20)
    reviewed = review_of(
        order,
        {"id": "o2", "fluid": "dextrose saline", "rate_ml_h": 40, "purpose": "maintenance"},
        **AILING,
    )
    return json.loads(json.dumps(reply_of(reviewed, catalogue, ruleset, vehicles)))  # type: ignore[no-any-return]


def orders(reply: dict[str, object]) -> list[dict[str, object]]:
    return reply["orders"]  # type: ignore[return-value]


def test_the_reply_has_the_agreed_fields(reply: dict[str, object]) -> None:
    assert set(reply) >= {"ruleset", "orders", "patient_findings", "totals"}
    for order in orders(reply):
        assert set(order) >= {"id", "fluid_id", "findings", "not_assessed", "loads"}
        assert set(order["loads"]) == LOADS  # type: ignore[call-overload]


def test_each_finding_has_the_agreed_fields(reply: dict[str, object]) -> None:
    of_orders = [f for order in orders(reply) for f in order["findings"]]  # type: ignore[attr-defined]
    of_patient: list[dict[str, object]] = reply["patient_findings"]  # type: ignore[assignment]
    assert of_orders
    assert of_patient
    for finding in [*of_orders, *of_patient]:
        assert set(finding) >= FINDING_KEYS
        assert finding["title"]
        assert finding["do"]
        assert finding["source"]
    assert all("order_ids" in finding for finding in of_patient)


def test_the_critical_finding_shows_its_figure_and_limit(reply: dict[str, object]) -> None:
    hyper = next(f for f in orders(reply)[0]["findings"] if f["rule_id"] == "k-hyper")  # type: ignore[attr-defined]
    assert hyper["level"] == "critical"
    assert hyper["figures"]["potassium_mmol_l"] == 5.9
    assert hyper["limit"] == {"potassium_high_mmol_l": 5.5}
    assert hyper["alternatives"]
    assert set(hyper["alternatives"][0]) >= {"fluid_id", "why"}


def test_what_would_change_a_finding_is_ranked(reply: dict[str, object]) -> None:
    ranked: list[dict[str, object]] = reply["would_change"]  # type: ignore[assignment]
    assert [(one["need"], one["level"]) for one in ranked] == [("sodium", "critical")]
    assert ranked[0]["rule_ids"] == ["na-hypotonic-low"]
    assert ranked[0]["order_ids"] == ["o2"]
    assert str(ranked[0]["title"]).startswith("sodium (not recorded): could raise: ")


def test_what_was_understood_and_what_was_not_is_said(reply: dict[str, object]) -> None:
    first, second = orders(reply)
    assert first["understood"]["per_litre"]["potassium_mmol_l"] == 24  # type: ignore[index]
    assert second["fluid_id"] is None
    assert len(second["understood"]["may_mean"]) > 1  # type: ignore[index]
    assert second["questions"]
    assert "purple spots" in reply["not_understood"]  # type: ignore[operator]
    assert "severe_kidney_failure" in reply["understood"]["conditions"]  # type: ignore[index]


def test_a_converted_result_is_told(reply: dict[str, object]) -> None:
    assert any("mg/dL" in told for told in reply["understood"]["converted"])  # type: ignore[index]


def test_the_usual_caution_is_always_there(reply: dict[str, object]) -> None:
    assert "never replaces" in str(reply["caution"])


def test_an_unknown_load_is_null_not_zero(
    review_of: ReviewOf, catalogue: Catalogue, ruleset: Ruleset, vehicles: Vehicles
) -> None:
    reviewed = review_of({"id": "o1", "fluid": "0.9% sodium chloride"})
    loads = reply_of(reviewed, catalogue, ruleset, vehicles)["orders"][0]["loads"]
    assert loads["sodium_mmol_per_day"] is None


def test_an_empty_request_has_a_reply(
    review_of: ReviewOf, catalogue: Catalogue, ruleset: Ruleset, vehicles: Vehicles
) -> None:
    assert reply_of(review_of(), catalogue, ruleset, vehicles)["orders"] == []


def test_numbers_are_rounded_to_three_decimals() -> None:
    assert rounded(0.123456) == 0.123
    assert rounded(None) is None


def test_an_order_and_its_ways_out_say_where_their_fluid_is(
    review_of: ReviewOf, catalogue: Catalogue, ruleset: Ruleset, vehicles: Vehicles
) -> None:
    order = maintenance("0.9% sodium chloride", 125, additives=KCL_20)
    reviewed = review_of(order, **AILING)
    told = Stock({"sodium-chloride-0.9": StockState("out", NOW, "lorry late", "J.B.")})
    (reply,) = reply_of(reviewed, catalogue, ruleset, vehicles, told)["orders"]
    assert reply["stock"] == {
        "state": "out", "since": NOW.isoformat(), "note": "lorry late", "by": "J.B.",
    }  # fmt: skip
    offered = [way for finding in reply["findings"] for way in finding["alternatives"]]
    assert offered
    assert "sodium-chloride-0.9" not in {way["fluid_id"] for way in offered}
    assert {way["stock"]["state"] for way in offered} == {"not told"}


def test_with_nothing_told_an_order_is_not_told_and_one_not_understood_has_no_stock(
    reply: dict[str, object],
) -> None:
    first, second = orders(reply)
    assert first["stock"]["state"] == "not told"  # type: ignore[index]
    assert second["stock"] is None
