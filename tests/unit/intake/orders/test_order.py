"""One order read: its text and reasons kept, its drugs carried."""

from collections.abc import Callable, Mapping
from typing import Any

import pytest

from app.intake.wording.line import added_behind
from app.patient.case import Case

Read = Callable[[Mapping[str, Any]], Case]


def test_the_whole_text_and_its_reasons_stay_with_the_order(read: Read) -> None:
    text = "Sodium bicarbonate to alkalinise urine, specialist plan"
    (order,) = read({"fluid": "sodium bicarbonate 1.26%", "order_text": text}).orders
    assert order.text == text and order.why_written == text
    assert {"urine_alkalinisation", "specialist_plan"} <= order.reasons
    assert order.purpose == "correction"


def test_a_condition_named_as_a_reason_is_the_patient_s(read: Read) -> None:
    case = read({"fluid": "calcium gluconate 10%", "purpose": "hyperkalaemia"})
    assert "hyperkalaemia" in case.patient.conditions
    assert case.patient.conditions.detail["hyperkalaemia"] == "hyperkalaemia"


def test_a_reason_that_is_no_condition_stays_with_the_order(read: Read) -> None:
    case = read({"fluid": "5% dextrose", "purpose": "relower sodium"})
    assert "relowering" in case.orders[0].reasons
    assert "relowering" not in case.patient.conditions


def test_a_name_with_its_reason_is_read(read: Read) -> None:
    (order,) = read({"fluid": "3% saline 150 mL for seizure over 10 min"}).orders
    assert order.fluid is not None and order.fluid.id == "sodium-chloride-3"
    assert (order.volume_ml, order.rate_ml_h) == (150, 900)
    assert "seizure" in order.reasons and not order.questions


def test_vitamins_in_the_bag_are_no_infusion_of_their_own(read: Read) -> None:
    vitamins = [{"substance": "thiamine", "amount": 200, "unit": "mg"}]
    assert not read({"fluid": "5% glucose", "volume_ml": 500, "additives": vitamins}).co_infusions


def test_an_ampoule_put_in_the_bag_counts_as_its_amount(read: Read) -> None:
    (order,) = read({"fluid": "0.9% saline + KCl 20 mmol/10 mL", "volume_ml": 500}).orders
    assert order.mix is not None and order.mix.potassium_mmol_l == 40 and not order.questions


def test_amounts_by_weight_and_day_are_spread_by_the_rate(read: Read) -> None:
    fields = {"fluid": "D10 + NaCl 3 mmol/kg/day + KCl 2 mmol/kg/day", "rate_ml_h": 70}
    (order,) = read(fields).orders
    assert order.mix is not None and not order.questions
    assert order.mix.sodium_mmol_l == pytest.approx(3 * 70 / 1.68)
    assert order.mix.potassium_mmol_l == pytest.approx(2 * 70 / 1.68)


def test_an_additive_listed_by_weight_and_day_is_spread_too(read: Read) -> None:
    listed = [{"substance": "sodium chloride", "amount": 3, "unit": "mmol/kg/day"}]
    (order,) = read({"fluid": "10% glucose", "rate_ml_h": 70, "additives": listed}).orders
    assert order.mix is not None and order.mix.sodium_mmol_l == pytest.approx(125)


def test_without_a_rate_an_amount_a_day_is_asked_about(read: Read) -> None:
    (order,) = read({"fluid": "D10 + NaCl 3 mmol/kg/day"}).orders
    assert order.mix is None and "rate" in order.questions[0].ask


def test_nutrition_without_calcium_brings_none(read: Read) -> None:
    fields = {"fluid": "calcium-free parenteral nutrition", "rate_ml_h": 50}
    (carried,) = read(fields).co_infusions
    assert carried.key == "parenteral_nutrition" and "calcium" not in carried.contents


@pytest.mark.parametrize(
    ("written", "sodium", "potassium"),
    [
        ("10% dextrose 100 mL/kg/day with Na 3 mmol/kg/day, K 2 mmol/kg/day", 30, 20),
        ("5% glucose at 100 mL/h with KCl 20 mmol/L", 0, 20),
        ("5% glucose 100 mL/h, KCl 20 mmol/L", 0, 20),
        ("10% glucose + 0.18% NaCl + KCl 10 mmol/L at 10 mL/h", 30.8, 10),
    ],
)
def test_what_stands_behind_the_rate_is_not_lost(
    read: Read, written: str, sodium: float, potassium: float
) -> None:
    (order,) = read({"fluid": written}).orders
    assert order.mix is not None and order.rate_ml_h is not None and not order.questions
    assert order.mix.sodium_mmol_l == pytest.approx(sodium, abs=0.1)
    assert order.mix.potassium_mmol_l == pytest.approx(potassium)


def test_a_second_fluid_behind_the_rate_is_asked_about(read: Read) -> None:
    (order,) = read({"fluid": "Hartmann's 100 mL/h and 0.9% saline 20 mL/h"}).orders
    assert order.fluid is None and order.questions


def test_words_without_an_amount_add_nothing() -> None:
    assert added_behind("100 ml/h with ecg monitoring") == ""
    assert added_behind("at 100 ml/h with kcl 20 mmol/l") == "with kcl 20 mmol/l"


@pytest.mark.parametrize(
    ("text", "fluid_id", "rate_ml_h"),
    [
        ("NS 1 L over 8 h", "sodium-chloride-0.9", 125),
        ("oxytocin 20 units in 1 L 5% glucose at 125 mL/h", "glucose-5", 125),
    ],
)
def test_an_order_that_is_one_line_of_text_names_its_fluid_there(
    read: Read, text: str, fluid_id: str, rate_ml_h: float
) -> None:
    order = read({"order_text": text}).orders[0]
    assert order.fluid is not None
    assert order.fluid.id == fluid_id
    assert order.rate_ml_h == pytest.approx(rate_ml_h)
    assert not order.questions


@pytest.mark.parametrize(
    ("substance", "text", "doses"),
    [("vancomycin", "BD", 2), ("vancomycin", "", None), ("vancomycin", "to run 8-hourly", 3)],
)
def test_a_drug_in_the_bag_has_the_times_of_the_order(
    read: Read, substance: str, text: str, doses: float | None
) -> None:
    bag = {"substance": substance, "amount": 1, "unit": "g"}
    order = {"fluid": "0.9% sodium chloride", "volume_ml": 250, "rate_ml_h": 125,
             "order_text": text, "additives": [bag]}  # fmt: skip
    (drug,) = read(order).co_infusions
    assert drug.schedule.doses_per_day == doses


def test_an_order_that_does_not_run_stands_apart(read: Read) -> None:
    case = read({"fluid": "Hartmann's", "rate_text": "100 mL/h - on hold"})
    assert not case.orders and case.not_given[0].not_given == "on hold"


def test_what_is_lost_sets_the_rate_of_what_replaces_it(read: Read) -> None:
    (order,) = read({"fluid": "NS", "rate_text": "replace NG losses mL for mL"}).orders
    assert "loss_for_loss" in order.reasons and order.rate_ml_h is None and not order.questions


def test_the_volume_of_a_dose_is_that_of_its_bag(read: Read) -> None:
    (order,) = read({"fluid": "KCl 20 mEq/100 mL NS over 1h"}).orders
    assert (order.volume_ml, order.rate_ml_h) == (100, 100)


def test_a_bolus_written_first_is_no_reason_for_what_goes_on(read: Read) -> None:
    bolus, after = read({"fluid": "NS", "rate_text": "500 mL bolus then 150 mL/h"}).orders
    assert bolus.is_bolus and after.purpose is None and after.rate_ml_h == 150
