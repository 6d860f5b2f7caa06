"""What runs: one fluid by its words, what is added, and when; a doubt is refused by its field."""

from typing import Any

import pytest

from app.intake.errors import InputError
from tests.unit.review.predict.conftest import SALINE, Ask

KCL = {"substance": "KCl", "amount": 20, "unit": "mEq"}


def test_a_name_and_an_additive_in_milliequivalents_become_one_mix(ask: Ask) -> None:
    (infusion,) = ask({**SALINE, "fluid": "lactated Ringer's", "additives": [KCL]}).infusions
    assert infusion.fluid.id == "lactated-ringers"
    assert infusion.load.composition.potassium_mmol_l == pytest.approx(24)
    assert infusion.load.volume_l == 1
    assert (infusion.load.starts_min, infusion.load.duration_min) == (0, 60)


def test_an_additive_is_a_total_of_the_whole_volume(ask: Ask) -> None:
    (infusion,) = ask({**SALINE, "volume_ml": 500, "additives": [KCL]}).infusions
    assert infusion.load.composition.potassium_mmol_l == pytest.approx(40)


def test_a_strength_in_the_name_is_that_fluid(ask: Ask) -> None:
    (infusion,) = ask({**SALINE, "fluid": "3% saline", "volume_ml": 250}).infusions
    assert infusion.load.composition.sodium_mmol_l == 513


def test_volume_and_time_may_stand_in_the_words(ask: Ask) -> None:
    (infusion,) = ask({"fluid": "1 L 0.9% saline over 8 h"}).infusions
    assert infusion.load.volume_l == 1
    assert infusion.load.duration_min == 480


def test_a_time_that_differs_from_the_words_is_used_and_noted(ask: Ask) -> None:
    (infusion,) = ask({**SALINE, "fluid": "0.9% saline 1 L over 8 h"}).infusions
    assert infusion.load.duration_min == 60
    assert infusion.notes[0].text == "The fluid's words come to 480 min; 60 min is reckoned with."


def test_a_volume_that_differs_from_the_words_is_used_and_noted(ask: Ask) -> None:
    (infusion,) = ask({**SALINE, "fluid": "0.9% saline 100 mL/h for 20 h"}).infusions
    assert infusion.load.volume_l == 1
    assert any("come to 2000 mL" in note.text for note in infusion.notes)


def test_litres_and_hours_are_read(ask: Ask) -> None:
    (infusion,) = ask({**SALINE, "volume_ml": "1 L", "duration_min": "2 h"}).infusions
    assert (infusion.load.volume_l, infusion.load.duration_min) == (1, 120)


def test_a_push_takes_a_minute_and_that_is_said(ask: Ask) -> None:
    (infusion,) = ask({**SALINE, "duration_min": 0}).infusions
    assert infusion.load.duration_min == 1
    assert infusion.notes[0].field == "infusions[0].duration_min"


def test_a_composition_takes_additives_too(ask: Ask) -> None:
    composed = {"sodium_mmol_l": 77, "chloride_mmol_l": 77}
    given = {"composition": composed, "volume_ml": 500, "duration_min": 30, "additives": [KCL]}
    (infusion,) = ask(given).infusions
    assert infusion.fluid.id == ""
    assert infusion.load.composition.potassium_mmol_l == pytest.approx(40)
    assert infusion.load.composition.chloride_mmol_l == pytest.approx(117)


def test_a_name_beside_a_composition_is_not_looked_up_and_that_is_said(ask: Ask) -> None:
    given = {**SALINE, "composition": {"sodium_mmol_l": 77, "chloride_mmol_l": 77}}
    (infusion,) = ask(given).infusions
    assert infusion.load.composition.sodium_mmol_l == 77
    assert [note.field for note in infusion.notes] == ["infusions[0].fluid"]


def test_a_label_without_chloride_says_what_was_worked_out(ask: Ask) -> None:
    asked = ask({"fluid": "20% albumin", "volume_ml": 100, "duration_min": 60})
    assert asked.infusions[0].chloride_worked_out == pytest.approx(100, abs=60)
    assert "infusions[0].chloride" in [one.name for one in asked.assumed]


def test_a_drug_in_the_bag_is_said_not_to_be_reckoned(ask: Ask) -> None:
    drug = {"substance": "furosemide", "amount": 40, "unit": "mg"}
    (infusion,) = ask({**SALINE, "additives": [drug]}).infusions
    assert any("drug" in note.text for note in infusion.notes)


def test_a_salt_that_is_never_hung_as_it_is_says_so(ask: Ask) -> None:
    given = {"fluid": "sodium chloride 23.4%", "volume_ml": 30, "duration_min": 15}
    (infusion,) = ask(given).infusions
    assert any("never hung" in note.text for note in infusion.notes)


@pytest.mark.parametrize(
    ("given", "field", "accepted"),
    [
        ({**SALINE, "fluid": "albumin"}, "fluid", "20% human albumin"),
        ({**SALINE, "fluid": "blorf"}, "fluid", "one fluid of the catalogue"),
        ({**SALINE, "fluid": None}, "fluid", "composition"),
        ({**SALINE, "fluid": 7}, "fluid", "a text"),
        ({**SALINE, "fluid": "0.9% saline, stopped"}, "fluid", "runs"),
        ({**SALINE, "fluid": "potassium chloride 15%"}, "fluid", "fatal if given undiluted"),
        (
            {"fluid": "0.9% saline 250 mL/h for 2 h then 125 mL/h for 4 h", "duration_min": 9},
            "fluid",
            "each step",
        ),
        ({**SALINE, "volume_ml": 0}, "volume_ml", "above 0"),
        ({**SALINE, "volume_ml": None}, "volume_ml", "a number above 0"),
        ({**SALINE, "duration_min": None}, "duration_min", "a number"),
        ({**SALINE, "duration_min": -1}, "duration_min", "from 0"),
        ({**SALINE, "starts_min": "soon"}, "starts_min", "a number"),
        ({**SALINE, "additives": [{"substance": "KCl", "amount": 20}]}, "additives", "no unit"),
        (
            {**SALINE, "additives": [{"substance": "calcium", "amount": 5, "unit": "mmol"}]},
            "additives",
            "which salt",
        ),
        ({"composition": {"sodium": 5}, "volume_ml": 9, "duration_min": 9}, "composition.sodium",
         "sodium_mmol_l"),
        ({"composition": {}, "duration_min": 9}, "volume_ml", "a number"),
        ({"composition": 5, "volume_ml": 9, "duration_min": 9}, "composition", "named fields"),
    ],
)  # fmt: skip
def test_a_doubt_is_refused_with_its_field_and_what_is_accepted(
    ask: Ask, given: dict[str, Any], field: str, accepted: str
) -> None:
    with pytest.raises(InputError) as refused:
        ask(given)
    assert refused.value.field == f"infusions[0].{field}"
    assert accepted in refused.value.accepted


@pytest.mark.parametrize(
    ("written", "fluid"),
    [
        ("saline_0_9", "sodium-chloride-0.9"), ("sodium_bicarbonate_8_4", "sodium-bicarbonate-8.4"),
        ("saline_855", "sodium-chloride-5"), ("hes_6_in_saline", "hydroxyethyl-starch-6"),
        ("sodium_bicarbonate_150", "sodium-bicarbonate-1.26"),
        ("saline-0-45", "sodium-chloride-0.45"),
        ("acetate_malate_balanced_302", "acetate-malate-balanced"),
    ],
)  # fmt: skip
def test_an_id_that_means_one_fluid_is_read(ask: Ask, written: str, fluid: str) -> None:
    (infusion,) = ask({**SALINE, "fluid": written}).infusions
    assert infusion.fluid.id == fluid


def test_an_id_of_salt_that_is_made_up_holds_it(ask: Ask) -> None:
    (infusion,) = ask({**SALINE, "fluid": "saline_7_5", "volume_ml": 280}).infusions
    assert infusion.load.composition.sodium_mmol_l == pytest.approx(1283, abs=2)
    (bag,) = ask({**SALINE, "fluid": "kcl_20_in_100ml_saline", "volume_ml": 100}).infusions
    assert bag.load.composition.potassium_mmol_l == pytest.approx(200)


def test_fluids_that_hold_nearly_the_same_need_no_choice(ask: Ask) -> None:
    given = {**SALINE, "fluid": "multi_electrolyte_acetate_gluconate"}
    (infusion,) = ask(given).infusions
    assert infusion.fluid.id == "multiple-electrolytes-type-1-ph-7.4"
    assert any("nearly the same" in note.text for note in infusion.notes)
