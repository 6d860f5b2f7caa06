"""What the words round a condition make of it."""

from dataclasses import replace

import pytest

from app.intake.problems.said import Around, denies, is_denied, is_of_others, verdict


def around(before: str = "", after: str = "", year: int | None = 2031) -> Around:
    words = tuple(before.split())
    return Around(before, words, ("sepsis",), after, before, this_year=year)


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        ("", "", "present"), ("no", "", "denied"), ("no improvement in", "", "present"),
        ("", "ruled out", "denied"), ("", "was ruled out", "denied"),
        ("mother had", "", "not said"),
        ("at risk of", "", "not said"), ("high risk", "", "present"), ("if", "", "not said"),
        ("", "screen negative", "not said"), ("previous", "", "over"), ("", "in 2019", "over"),
        ("", "as a child", "over"), ("", "3 years ago", "over"), ("", "2 days ago", "present"),
        ("", "in 2031", "present"), ("ex", "", "over"), ("non", "", "denied"),
        ("watch for", "", "not said"), ("", "stopped", "over"), ("not", "", "denied"),
    ],
)  # fmt: skip
def test_an_acute_condition(before: str, after: str, said: str) -> None:
    assert verdict("sepsis", around(before, after), acute=True, act=False) == said


def test_a_lasting_condition_stays_through_its_history() -> None:
    assert verdict("heart_failure", around("history of"), acute=False, act=False) == "present"


@pytest.mark.parametrize("before", ["considering", "declined", "stopped", "may need"])
def test_what_may_be_done_is_not_done(before: str) -> None:
    assert verdict("dialysis", around(before), acute=False, act=True) == "not said"


def test_a_salt_that_was_treated_is_put_right_and_a_disease_is_not() -> None:
    treated = around(after="treated")
    assert verdict("hyperkalaemia", treated, acute=True, act=False) == "over"
    assert verdict("sepsis", treated, acute=True, act=False) == "present"


def test_a_scan_denies_only_what_it_shows() -> None:
    clear = around(after="ct negative")
    assert verdict("subarachnoid_haemorrhage", clear, acute=True, act=False) == "denied"
    assert verdict("stroke", clear, acute=True, act=False) == "present"


def test_whose_condition_it_is() -> None:
    assert is_of_others("father had") and not is_of_others("the patient has")
    assert denies("nor") and not denies("not improving")
    assert is_denied(around(after="nil")) and not is_denied(around(after="with nil"))


def test_what_went_on_until_a_past_year_is_over() -> None:
    until = replace(around(), rest="until 2025")
    assert verdict("dialysis", until, acute=False, act=True) == "over"
    to_come = replace(around(), rest="until 2035")
    assert verdict("dialysis", to_come, acute=False, act=True) == "present"


def test_a_head_injury_with_a_clear_scan_is_none_of_the_brain() -> None:
    scanned = around(after="- ct head normal")
    assert verdict("traumatic_brain_injury", scanned, acute=True, act=False) == "denied"
