"""The review of one order being written."""

from collections.abc import Callable

from app.catalogue.stock.stock import Stock, StockState
from app.review.assess import Review
from app.review.knowledge import Knowledge
from app.web.advice.missing import MissingView
from app.web.advice.panel import FaultLine, fault_panel, headline, panel_of
from tests.unit.web.advice.conftest import NOW

Reviewed = Callable[..., Review]
SALT = {"fluid": "0.9% sodium chloride", "volume_ml": 1000, "rate_ml_h": 80}


def test_nothing_found_is_said_with_what_could_not_be_assessed() -> None:
    assert headline((), ()) == "Nothing found."
    assert headline((), (MissingView("No weight", ("a",)),)) == (
        "Nothing found; 1 thing missing, so not all was assessed."
    )


def test_a_field_that_cannot_be_read_means_nothing_was_reviewed() -> None:
    panel = fault_panel((FaultLine("rate", "Rate: …"), FaultLine("volume", "Volume: …")))
    assert panel.headline == "Not reviewed: 2 fields cannot be read."
    assert panel.order is None


def test_a_single_order_has_no_sum_of_all_orders(reviewed: Reviewed, knowledge: Knowledge) -> None:
    assert panel_of(reviewed({}, SALT), "o1", knowledge).totals is None


def test_the_sum_of_all_orders_stands_beside_the_new_one(
    reviewed: Reviewed, knowledge: Knowledge
) -> None:
    panel = panel_of(reviewed({"age_years": 50, "weight_kg": 60}, SALT, SALT), "o2", knowledge)
    assert panel.loads is not None
    assert panel.totals is not None
    alone, together = panel.loads.rows[1].amount, panel.totals.rows[1].amount
    assert 2 * int(str(alone)) - 1 <= int(str(together)) <= 2 * int(str(alone)) + 1


def test_all_words_are_told_as_understood(reviewed: Reviewed, knowledge: Knowledge) -> None:
    patient = {"conditions": ["heart failure", "xyzzy"], "medications": ["digoxin"]}
    panel = panel_of(reviewed(patient, SALT), "o1", knowledge)
    assert {"heart failure", "xyzzy", "digoxin"} <= {one.written for one in panel.words}


def test_a_name_that_fits_several_fluids_asks_which_before_all_else(
    reviewed: Reviewed, knowledge: Knowledge
) -> None:
    panel = panel_of(reviewed({}, {**SALT, "fluid": "Ringer's"}), "o1", knowledge)
    assert panel.headline.startswith("Choose which fluid is meant. Until then: ")
    assert panel.named is not None
    assert len(panel.named.meanings) > 1
    assert all(question.choices != panel.named.meanings for question in panel.questions)


def test_a_known_fluid_leaves_nothing_to_choose(reviewed: Reviewed, knowledge: Knowledge) -> None:
    named = panel_of(reviewed({}, SALT), "o1", knowledge).named
    assert named is not None
    assert (named.fluid_id, named.meanings) == ("sodium-chloride-0.9", ())


def test_what_is_found_of_a_later_step_is_told_with_its_order(
    reviewed: Reviewed, knowledge: Knowledge
) -> None:
    patient = {"observations": [{"name": "potassium", "value": 6.1, "unit": "mmol/L"}]}
    text = "0.9% sodium chloride 1 L over 8 h then 5% glucose 1 L with 40 mmol KCl over 8 h"
    panel = panel_of(reviewed(patient, {"order_text": text}), "o1", knowledge)
    assert "k-hyper" in {finding.rule_id for finding in panel.findings}


def test_an_order_on_hold_is_told_and_not_judged(reviewed: Reviewed, knowledge: Knowledge) -> None:
    panel = panel_of(reviewed({}, {**SALT, "rate_text": "on hold"}), "o1", knowledge)
    assert [finding.level for finding in panel.findings] == ["info"]
    assert "on hold" in panel.findings[0].summary


def test_an_ordered_fluid_that_is_out_is_said_beside_the_order_and_raises_no_level(
    reviewed: Reviewed, knowledge: Knowledge
) -> None:
    review = reviewed({"age_years": 50, "weight_kg": 60}, SALT)
    out = Stock({"sodium-chloride-0.9": StockState("out", NOW, "lorry late")})
    usual, told = panel_of(review, "o1", knowledge), panel_of(review, "o1", knowledge, out)
    assert usual.lack == ""
    assert told.lack == "0.9% sodium chloride: out since 07:00. Lorry late."
    assert told.headline == usual.headline
