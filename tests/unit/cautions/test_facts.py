from collections.abc import Mapping
from datetime import UTC, datetime, timedelta

import pytest

from app.cautions.facts import (
    Fact,
    at_most_warning,
    estimated_egfr,
    filtration_contradicts,
    kidneys_failing,
    kidneys_known_to_fail,
    lack_of_calcium,
    urine_ml_kg_h,
)
from app.patient.known import NotKnown
from app.patient.observation import Observation
from app.patient.snapshot import Snapshot, Words

NOW = datetime(2031, 3, 4, 7, 0, tzinfo=UTC)


def patient(results: Mapping[str, float] | None = None, **given: object) -> Snapshot:
    taken = NOW - timedelta(hours=1)
    found = {n: (Observation(n, v, "", taken),) for n, v in (results or {}).items()}
    return Snapshot(now=NOW, results=found, **given)  # type: ignore[arg-type]


def lack(of: Snapshot) -> NotKnown:
    with pytest.raises(NotKnown) as raised:
        kidneys_failing(of)
    return raised.value


def test_a_reported_egfr_is_taken_before_a_creatinine() -> None:
    both = patient({"egfr": 41, "creatinine": 400}, age_years=70.0, sex="male")
    assert estimated_egfr(both) == (41, "eGFR 41 mL/min/1.73 m²")


def test_egfr_is_worked_out_from_creatinine_age_and_sex() -> None:
    worked_out = estimated_egfr(patient({"creatinine": 330}, age_years=68.0, sex="male"))
    assert worked_out is not None
    assert worked_out[0] == pytest.approx(16.5, abs=0.5)
    assert "creatinine 330 µmol/L" in worked_out[1]


def test_an_infant_has_no_egfr_by_the_childrens_formula() -> None:
    assert estimated_egfr(patient({"creatinine": 60}, age_years=0.02, height_cm=50.0)) is None


@pytest.mark.parametrize("key", ["dialysis", "anuria", "oliguria", "severe_kidney_failure"])
def test_a_recorded_failure_is_enough(key: str) -> None:
    words = Words(frozenset({key}), detail={key: "as the ward wrote it"})
    assert kidneys_failing(patient(conditions=words)).because == "as the ward wrote it"


def test_egfr_of_30_is_not_failing_and_29_is() -> None:
    assert not kidneys_failing(patient({"egfr": 30})).holds
    assert kidneys_failing(patient({"egfr": 29})).holds


def test_urine_under_half_a_millilitre_counts_as_failing_beside_a_good_filtration() -> None:
    dry = patient({"egfr": 90}, urine_ml_h=34.0, weight_kg=70.0)
    assert kidneys_failing(dry).holds
    assert not kidneys_failing(patient({"egfr": 90}, urine_ml_h=36.0, weight_kg=70.0)).holds


def test_urine_alone_can_clear_the_kidneys() -> None:
    assert not kidneys_failing(patient(urine_ml_h=60.0, weight_kg=70.0)).holds


def test_no_kidney_disease_written_is_an_answer() -> None:
    assert not kidneys_failing(
        patient(conditions=Words(denied=frozenset({"kidney_disease"})))
    ).holds


def test_a_very_high_creatinine_needs_neither_age_nor_sex() -> None:
    assert kidneys_failing(patient({"creatinine": 354})).holds


def test_a_creatinine_that_reads_alike_for_either_sex_needs_no_sex() -> None:
    assert not kidneys_failing(patient({"creatinine": 80}, age_years=60.0)).holds
    assert kidneys_failing(patient({"creatinine": 300}, age_years=60.0)).holds


def test_a_creatinine_between_asks_for_the_sex() -> None:
    assert lack(patient({"creatinine": 185}, age_years=60.0)).need == "sex"


def test_a_childs_creatinine_that_is_normal_at_any_height_needs_no_height() -> None:
    assert not kidneys_failing(patient({"creatinine": 40}, age_years=6.0)).holds


def test_a_childs_creatinine_between_asks_for_the_height() -> None:
    assert lack(patient({"creatinine": 130}, age_years=6.0)).need == "height_cm"


def test_an_infants_kidneys_are_judged_by_urine() -> None:
    assert lack(patient({"creatinine": 30}, age_years=0.2)).need == "urine_ml_h"


def test_a_creatinine_without_an_age_asks_for_it() -> None:
    assert lack(patient({"creatinine": 150})).need == "age_years"


def test_nothing_known_of_the_kidneys_is_not_normal() -> None:
    nothing = lack(patient())
    assert (nothing.need, nothing.why) == ("creatinine", "missing")


def test_an_old_creatinine_is_said_to_be_old() -> None:
    old = Observation("creatinine", 80, "", NOW - timedelta(days=5))
    assert lack(Snapshot(now=NOW, results={"creatinine": (old,)})).why == "stale"


def test_urine_by_weight_needs_both() -> None:
    assert urine_ml_kg_h(patient(urine_ml_h=35.0, weight_kg=70.0)) == pytest.approx(0.5)
    assert urine_ml_kg_h(patient(urine_ml_h=35.0)) is None
    assert urine_ml_kg_h(patient(weight_kg=70.0)) is None


def test_kidneys_of_which_nothing_is_known_are_not_known_to_fail() -> None:
    assert kidneys_known_to_fail(patient(urine_ml_h=20.0, weight_kg=70.0))
    assert not kidneys_known_to_fail(patient(urine_ml_h=70.0, weight_kg=70.0))
    assert not kidneys_known_to_fail(patient())


MAN_OF_60 = {"age_years": 60.0, "sex": "male"}


@pytest.mark.parametrize(
    ("egfr", "creatinine", "worse"),
    [(12, 90, "eGFR 12, if true"), (88, 420, "creatinine 420 µmol/L, if true")],
)
def test_egfr_and_creatinine_that_contradict_count_as_failing_in_doubt(
    egfr: float, creatinine: float, worse: str
) -> None:
    fact = kidneys_failing(patient({"egfr": egfr, "creatinine": creatinine}, **MAN_OF_60))
    assert fact.holds and fact.in_doubt
    assert fact.because.startswith(worse)


@pytest.mark.parametrize(("egfr", "creatinine"), [(12, 420), (41, 400), (88, 80)])
def test_egfr_and_creatinine_that_may_both_be_right_are_in_no_doubt(
    egfr: float, creatinine: float
) -> None:
    assert not filtration_contradicts(
        patient({"egfr": egfr, "creatinine": creatinine}, **MAN_OF_60)
    )


def test_results_of_two_days_do_not_contradict_each_other() -> None:
    old = (Observation("egfr", 12, "", NOW - timedelta(hours=27)),)
    new = (Observation("creatinine", 90, "", NOW - timedelta(hours=1)),)
    results = {"egfr": old, "creatinine": new}
    assert not filtration_contradicts(Snapshot(now=NOW, results=results, age_years=60, sex="male"))


def test_what_rests_on_a_contradiction_is_at_most_a_warning() -> None:
    assert at_most_warning("critical", Fact(True, "", in_doubt=True)) == "warning"
    assert at_most_warning("critical", Fact(True, "")) == "critical"
    assert at_most_warning("info", Fact(True, "", in_doubt=True)) == "info"


def test_what_is_lacking_of_calcium_is_the_result_that_was_ever_measured() -> None:
    never = lack_of_calcium(patient())
    assert (never.need, never.why) == ("calcium_ionised", "missing")
    old = Observation("calcium_total", 2.3, "mmol/L", NOW - timedelta(days=9))
    stale = lack_of_calcium(Snapshot(now=NOW, results={"calcium_total": (old,)}))
    assert (stale.need, stale.why) == ("calcium_total", "stale")
