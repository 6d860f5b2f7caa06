"""A rule that is switched off is named where it would have spoken, and nowhere else."""

from typing import Any

import pytest

from app.catalogue.changes.change import RuleSwitch
from app.review.as_text import lines_of
from app.review.changes.applied import knowledge_with
from app.review.knowledge import Knowledge, shipped
from app.review.reply import reply_of
from app.review.workflow import review_request
from tests.changing import RULE, change
from tests.unit.review.changes.conftest import NOW


def off(rule_id: str = RULE) -> Knowledge:
    return knowledge_with(shipped(), change(RuleSwitch(rule_id, on=False), NOW))


def request(potassium: float | None = 6.1, fluid: str = "0.9% sodium chloride") -> dict[str, Any]:
    observation = {
        "name": "potassium", "value": potassium, "unit": "mmol/L",
        "taken_at": "2031-03-04T05:00:00Z",
    }  # fmt: skip
    salt = {"substance": "potassium chloride", "amount": 20, "unit": "mmol"}
    return {
        "now": "2031-03-04T07:00:00Z",
        "patient": {
            "age_years": 61, "weight_kg": 70,
            "observations": [observation] if potassium is not None else [],
        },
        "orders": [
            {"id": "plain", "fluid": "0.9% sodium chloride", "volume_ml": 500, "rate_ml_h": 50},
            {"id": "salted", "fluid": fluid, "volume_ml": 1000, "rate_ml_h": 100,
             "additives": [salt]},
        ],
    }  # fmt: skip


def silent(asked: dict[str, Any], knowledge: Knowledge) -> list[tuple[str, tuple[str, ...], bool]]:
    found = review_request(asked, knowledge).silent
    return [(one.off.rule.id, one.order_ids, one.lacks) for one in found]


def test_it_is_named_with_the_order_it_would_have_spoken_of() -> None:
    assert silent(request(), off()) == [(RULE, ("salted",), False)]


def test_where_it_would_have_found_nothing_it_is_not_named_but_the_reply_lists_it() -> None:
    assert silent(request(4.0), off()) == []
    knowledge = off()
    reviewed = review_request(request(4.0), knowledge)
    reply = reply_of(reviewed, knowledge.catalogue, knowledge.ruleset, knowledge.vehicles)
    (told,) = reply["switched_off"]
    assert told["rule_id"] == RULE and not told["would_have_spoken"] and told["order_ids"] == []


def test_where_it_would_have_lacked_something_it_is_named() -> None:
    assert silent(request(None), off()) == [(RULE, ("salted",), True)]


def test_a_name_that_may_mean_several_fluids_is_tried_as_each() -> None:
    assert silent(request(fluid="Ringer's"), off()) == [(RULE, ("salted",), False)]


def test_nothing_is_off_as_shipped() -> None:
    assert silent(request(), shipped()) == []


def test_a_rule_about_the_whole_patient_is_named_with_the_orders_it_names_or_none() -> None:
    asked = request()
    asked["patient"]["access"] = [{"id": "p1", "site": "peripheral"}]
    beside = (("norepinephrine 5 mL/h", "drug"), ("propofol", "drug"), ("red cells", "blood"))
    asked["co_infusions"] = [{"name": name, "kind": kind, "lumen": "p1"} for name, kind in beside]
    assert silent(asked, off("line-lumen-count")) == [("line-lumen-count", (), False)]
    both = ("plain", "salted")
    assert silent(asked, off("ord-duplicate")) == [("ord-duplicate", both, False)]


@pytest.mark.parametrize("zone", ["+00:00", "+02:00"])
def test_plain_lines_say_since_when_by_whom_and_why(zone: str) -> None:
    asked = {**request(), "now": f"2031-03-04T07:00:00{zone}"}
    text = "\n".join(lines_of(review_request(asked, off())))
    assert "Not run: Potassium added in hyperkalaemia (order salted)" in text
    assert "Switched off here since 1 Feb 2026, " in text
    assert "by J. Birch: agreed with the kidney unit." in text
