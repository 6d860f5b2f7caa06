from datetime import UTC, datetime, timedelta

import pytest

from app.patient.access import Lumen
from app.patient.known import NotKnown
from app.patient.observation import Observation
from app.patient.snapshot import Snapshot, Words

NOW = datetime(2031, 3, 4, 7, 0, tzinfo=UTC)


def with_potassium(value: float | None, minutes_old: int, doubt: str = "") -> Snapshot:
    taken_at = NOW - timedelta(minutes=minutes_old)
    observation = Observation("potassium", value, "mmol/L", taken_at, doubt=doubt)
    return Snapshot(NOW, results={"potassium": (observation,)})


def test_the_newest_usable_result_is_given() -> None:
    assert with_potassium(5.9, 60).value("potassium") == 5.9


@pytest.mark.parametrize(
    ("snapshot", "why"),
    [
        (Snapshot(NOW), "missing"),
        (with_potassium(5.9, 31 * 60), "stale"),
        (with_potassium(None, 60, "haemolysed"), "suspect"),
    ],
)
def test_a_result_that_cannot_be_judged_by_says_why(snapshot: Snapshot, why: str) -> None:
    with pytest.raises(NotKnown) as lack:
        snapshot.value("potassium")
    assert lack.value.why == why
    assert snapshot.value_or_none("potassium") is None


@pytest.mark.parametrize(
    ("minutes", "words"),
    [(40, "40 min"), (60, "1 h"), (190, "3 h 10 min"), (47 * 60, "47 h"), (72 * 60, "3 days")],
)
def test_age_is_said_as_people_say_it(minutes: int, words: str) -> None:
    snapshot = with_potassium(5.9, minutes)
    assert snapshot.age_text(snapshot.results["potassium"][0]) == words


def test_a_newborn_is_one_to_twenty_eight_days() -> None:
    assert Snapshot(NOW, age_years=28 / 365.25).is_neonate()
    assert not Snapshot(NOW, age_years=29 / 365.25).is_neonate()
    assert Snapshot(NOW, setting="neonate").is_neonate()


def test_a_child_is_under_sixteen_and_an_unknown_age_is_not_guessed() -> None:
    assert Snapshot(NOW, age_years=15.9).is_child()
    assert Snapshot(NOW, age_years=16).is_adult()
    with pytest.raises(NotKnown):
        Snapshot(NOW).is_child()


def test_words_know_what_was_found() -> None:
    words = Words(found=frozenset({"dialysis"}))
    assert "dialysis" in words
    assert words.any_of("anuria", "dialysis")
    assert not words.any_of("anuria")


def test_words_are_shown_as_they_were_written() -> None:
    detail = {"apixaban": "apixaban 5 mg", "anticoagulant": "apixaban 5 mg", "insulin": "Insulin"}
    words = Words(frozenset({*detail, "new_key"}), detail=detail)
    assert words.as_written == ("apixaban 5 mg", "Insulin", "new key")


def test_a_lumen_is_found_by_its_name() -> None:
    lumen = Lumen("p1", "peripheral")
    snapshot = Snapshot(NOW, access=(lumen,))
    assert snapshot.lumen("p1") is lumen
    assert snapshot.lumen("c9") is None
