"""What is said of sodium: short, with its figure, and nothing that does not apply."""

from dataclasses import replace

import pytest

from app.web.pictures.curves import Result
from app.web.prediction.person import Person
from app.web.prediction.sodium.helps import Bolus
from app.web.prediction.sodium.ways import Look, Way
from app.web.prediction.sodium.words import Around, SodiumWords, Top, of_sodium, sodium_words
from tests.unit.web.prediction.sodium.test_limits import limits, person
from tests.unit.web.prediction.sodium.test_reach import curve


def look(*mid: float, over: float = 0.0, mark: str = "", by_hand: float | None = None) -> Look:
    moved = mid[-1] - mid[0] if by_hand is None else by_hand
    return Look(mark, curve(*mid, over=over), by_hand_mmol_l=moved, by_hand_h=12)


def words(sodium: float, whom: Person, *mid: float, over: float = 0.0) -> SodiumWords:
    return sodium_words(whom, [look(sodium, *mid, over=over)], limits(sodium, whom))


URINE = "Urine can pass it without the bag. Over 100 mL/h: sodium now, and every 2 h."


def test_a_limit_that_is_passed_stands_beside_the_findings_and_urine_is_watched() -> None:
    found = words(118, person(), 124, 129)
    text = "Sodium is likely to pass +10 in 24 h (128) at about 12 h."
    assert found.leads == (text, URINE)
    assert found.tops == (Top("critical", text),)
    assert found.rescue.startswith("If it passes the limit: stop this fluid and tell the senior")
    assert "desmopressin" in found.rescue


def test_no_sentence_comforts_with_a_band() -> None:
    assert not any("band and all" in one for one in words(118, person(), 119).leads)


def test_urine_is_not_said_to_raise_what_falls() -> None:
    found = words(118, person(), 115)
    assert found.leads[0].startswith("Sodium falls from 118 to 115")
    assert URINE not in found.leads


def test_a_child_s_urine_is_by_weight() -> None:
    child = replace(person(age_years=6), weight_kg=20)
    assert "Over 40 mL/h: sodium now" in words(118, child, 120).leads[-1]


def test_the_rescue_is_kept_for_the_limit_itself() -> None:
    assert words(118, person(), 124, 127).rescue == ""
    assert words(118, person("malnutrition"), 124, 127).rescue
    assert words(118, person(), 120).leads[0] == "Sodium by the bag alone: within +8 in 24 h."


def test_what_has_passed_already_is_said_first() -> None:
    whom = person(measured=(Result(-12, 112, "measured 112 mmol/L"),))
    found = words(124, whom, 124, 124)
    assert found.leads == ("Sodium has risen 12 mmol/L already: past +8 in 24 h.", URINE)
    assert found.tops == (Top("critical", found.leads[0]),)
    assert found.rescue.startswith("Past the limit: stop this fluid")
    assert found.again == "Sodium now and again in 2 h."
    assert found.stands[-1].most == ("118", "120")


def test_more_than_eighteen_in_two_days_is_said() -> None:
    whom = person(measured=(Result(-40, 108, "measured 108 mmol/L, two days ago"),))
    assert "Sodium has risen 20 mmol/L in 48 h: past +18 in 48 h." in words(128, whom, 128).leads


@pytest.mark.parametrize(
    ("sodium", "mid", "again"),
    [
        (118, (118.5, 118.5), "Sodium again in 4 h."),
        (124.9, (125.0, 125.0), "Sodium again in 4 h."),
        (126, (126.0, 126.0), ""),
        (126, (125.0, 124.0), "Sodium again in 2 h."),
        (118, (121, 127), "Sodium again in 2 h."),
        (140, (141.0,), ""),
        (156, (155.0,), "Sodium again in 6 h."),
        (156, (150.0, 144.0), "Sodium again in 4 h."),
        (150, (150.0,), ""),
    ],
)
def test_a_next_sodium_is_told_where_it_is_far_out_or_may_pass_a_limit(
    sodium: float, mid: tuple[float, ...], again: str
) -> None:
    assert words(sodium, person(), *mid).again == again


def test_half_the_way_to_a_limit_is_sooner() -> None:
    fast = replace(curve(118, 127), hours=(0.0, 3.0))
    found = sodium_words(person(), [replace(look(118, 127), drawn=fast)], limits(118))
    assert found.again == "Sodium again in 1 h 30 min."


def test_after_a_bolus_sodium_is_measured_when_it_is_in() -> None:
    found = sodium_words(person(), [look(112, 114)], limits(112), Around(bolus=Bolus(20)))
    assert found.again == (
        "Sodium when the bolus is in (20 min), before another; then every 2 h until 12 h."
    )
    assert found.brain_first


def test_a_rule_that_warns_takes_the_comfort_away() -> None:
    calm = sodium_words(person(), [look(118, 120)], limits(118))
    warned = sodium_words(person(), [look(118, 120)], limits(118), Around(frozenset({"A"})))
    assert "within" in calm.leads[0]
    assert not any("within" in one for one in warned.leads)
    assert warned.again == "Sodium again in 2 h."


def test_of_two_bags_only_the_one_that_is_warned_of_loses_it() -> None:
    both = [look(118, 120, mark="A"), look(118, 120, mark="B")]
    leads = sodium_words(person(), both, limits(118), Around(frozenset({"B"}))).leads
    assert "within" in leads[0]
    assert "within" not in leads[1]


def test_results_that_move_faster_than_the_curve_come_before_it() -> None:
    whom = person(measured=(Result(-8, 116, "measured"), Result(-1, 120, "measured")))
    found = words(120, whom, 120, 120)
    assert found.leads[0].endswith(
        "Believe the results. At that pace it passes +10 in 24 h (126) in 11 h 30 min."
    )
    assert found.again == "Sodium again in 2 h."


def test_severe_symptoms_are_spoken_of_where_sodium_is_so_low() -> None:
    assert (
        "3% sodium chloride by local policy: 150 mL over 20 min" in words(118, person(), 118).brain
    )
    assert words(127, person(), 127).brain == ""
    assert words(127, person("seizure"), 127).brain
    assert words(127, person("acute_hyponatraemia"), 127).brain
    assert words(140, person("seizure"), 140).brain == ""


def test_a_child_s_dose_is_by_weight() -> None:
    assert "2 mL/kg" in words(118, person(age_years=6), 118).brain


def test_a_fit_while_a_high_sodium_falls_is_another_thing() -> None:
    found = words(160, person(), 150)
    assert "brain may be swelling" in found.brain
    assert "3%" not in found.brain


def test_each_limit_says_what_it_is_for_and_where_it_comes_from() -> None:
    found = words(118, person("alcohol_dependence"), 120)
    assert [(one.words, one.meaning) for one in found.limits] == [
        ("+6 in 24 h", "aim where risk is high"), ("+8 in 24 h", "most where risk is high")
    ]  # fmt: skip
    assert all("Am J Med 2013" in one.source and "memory" in one.source for one in found.limits)
    assert "High risk (alcohol dependence), counted from 118 mmol/L" in found.counted


def test_a_short_standing_on_record_is_said_and_so_is_a_choice_against_it() -> None:
    recorded = "acute hyponatraemia after a marathon"
    acute = replace(person("acute_hyponatraemia"), recorded_onset=recorded)
    assert words(118, acute, 120).counted.startswith(f"On record as “{recorded}”: only the highest")
    longer = replace(person(), recorded_onset=recorded)
    assert f"chosen here, on record as “{recorded}”" in words(118, longer, 120).counted


def test_where_sodium_moves_with_glucose_strong_saline_is_not_spoken_of() -> None:
    found = words(120, person("diabetic_ketoacidosis"), 124)
    assert found.brain == ""
    assert found.again == "Sodium again in 4 h."


def test_a_limit_changed_here_says_so() -> None:
    day = limits(118)
    day = replace(day, limits={**day.limits, "rise_mmol_l_day": 7.0})
    found = sodium_words(person(), [look(118, 120)], day)
    assert found.limits[0].words == "+7 in 24 h"
    assert found.limits[0].source == "set by this unit; 8 as shipped"


def test_where_no_limit_counts_its_reason_is_said_and_no_table_made() -> None:
    found = words(140, person(), 141)
    assert not found.applies
    assert found.stands == ()
    assert found.leads == ()
    assert "under 130" in found.counted


def test_the_rules_that_speak_of_sodium_are_known_by_their_names() -> None:
    assert of_sodium("na-hypotonic-low")
    assert of_sodium("ord-water-total")
    assert not of_sodium("ord-chloride-total")


def test_of_unknown_urine_a_sample_is_asked_for() -> None:
    unknown = "Urine 130 mL/h: what it holds is not known."
    found = sodium_words(person(), [look(118, 119)], limits(118), Around(urine=unknown))
    assert found.leads[-1] == unknown
    assert found.again.endswith("Send urine sodium and potassium.")


def test_a_way_that_lies_on_the_curve_has_no_column_of_its_own() -> None:
    ways = (
        Way("water passed", "if kidneys pass the water", curve(131, 129)),
        Way("water kept", "if they keep it", curve(131, 126)),
    )
    found = sodium_words(person(), [replace(look(131, 129), ways=ways)], limits(131))
    assert found.marks == ("", "water kept")
    assert [line.mark for line in found.lines] == ["kept"]
