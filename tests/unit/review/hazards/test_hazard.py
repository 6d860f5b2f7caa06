"""A hazard's risk is told on the scale of its own log."""

from dataclasses import replace

from app.review.hazards.hazard import STATE_MEANS, STATES, Control, Hazard, HazardLog, Scale, Step

STEPS = tuple(Step(n, f"word {n}", f"means {n}") for n in range(1, 6))
BANDS = (Step(1, "low", ""), Step(6, "middle", ""), Step(12, "high", ""))
SCALE = Scale("ours", STEPS, STEPS, BANDS)
HAZARD = Hazard(
    "one", "Title", "Cause", "Harm", 4, 3, 2, "maker", "open", "Left",
    (
        Control("said", rules=("k-hyper", "k-renal"), tests=("a::b",)),
        Control("code", place="app/main.py", tests=("c::d", "e::f")),
        Control("people do it", by="pharmacist"),
    ),
)  # fmt: skip


def test_a_risk_is_severity_times_likelihood_before_and_after() -> None:
    assert (HAZARD.risk_before, HAZARD.risk_after) == (12, 8)


def test_a_band_begins_at_its_figure() -> None:
    assert [SCALE.band(risk) for risk in (1, 5, 6, 11, 12, 25)] == [
        "low", "low", "middle", "middle", "high", "high",
    ]  # fmt: skip


def test_rules_and_tests_are_those_of_every_control() -> None:
    assert list(HAZARD.rules()) == ["k-hyper", "k-renal"]
    assert list(HAZARD.tests()) == ["a::b", "c::d", "e::f"]


def test_what_people_do_is_no_control_of_the_program() -> None:
    assert [control.is_procedure for control in HAZARD.controls] == [False, False, True]


def test_open_hazards_come_with_the_highest_risk_first() -> None:
    worse = replace(HAZARD, id="worse", after=3)
    done = replace(HAZARD, id="done", state="reduced")
    log = HazardLog(SCALE, (HAZARD, done, worse))
    assert [hazard.id for hazard in log.known_open()] == ["worse", "one"]


def test_a_hazard_is_found_by_its_id() -> None:
    log = HazardLog(SCALE, (HAZARD,))
    assert log.get("one") is HAZARD
    assert log.get("two") is None


def test_every_state_says_what_it_means() -> None:
    assert set(STATE_MEANS) == set(STATES)
