"""Operations in a problem list: recent, long ago, or still to come."""

import pytest

from app.intake.bedside.operations import is_recent_operation, names_operation
from app.intake.conditions import read_conditions
from app.intake.vocabulary import Vocabulary


@pytest.mark.parametrize(
    "written",
    ["day 1 after appendicectomy", "appendicectomy yesterday", "post hip surgery day 2",
     "day 1 after hemicolectomy", "POD 2", "POD2 hip fracture fixation", "s/p laparotomy yesterday",
     "2 days post Whipple's", "day 3 post laparotomy", "post-op day 1 CABG",
     "emergency caesarean section 6 h ago", "after tonsillectomy", "following right hemicolectomy",
     "returned from hernia repair", "laparoscopic cholecystectomy this morning",
     "appendectomy 24 hours ago", "first day after knee replacement", "THR today",
     "post spinal fusion, day 1", "craniotomy yesterday", "post laparoscopic sigmoid colectomy",
     "nephrectomy 2 days ago", "1 day after TURP", "postoperative (thyroidectomy)",
     "immediately post operative", "scoliosis correction yesterday"],
)  # fmt: skip
def test_an_operation_of_the_last_days_is_heard(vocabulary: Vocabulary, written: str) -> None:
    words = read_conditions([written], vocabulary)
    assert "postoperative" in words.found
    assert words.unread == ()


@pytest.mark.parametrize(
    "written",
    ["appendicectomy 3 weeks ago", "appendicectomy 2019", "s/p cholecystectomy",
     "previous caesarean section", "for laparotomy today", "awaiting hip fixation", "POD 6",
     "day 9 after hemicolectomy", "hysterectomy 2 years ago", "old appendicectomy",
     "no surgery", "listed for hip replacement tomorrow", "post op 3 weeks",
     "CABG 10 days ago", "history of laparotomy", "tracheostomy"],
)  # fmt: skip
def test_one_long_ago_or_still_to_come_is_not(vocabulary: Vocabulary, written: str) -> None:
    assert "postoperative" not in read_conditions([written], vocabulary).found


def test_an_operation_is_a_word_known() -> None:
    assert names_operation("left hemicolectomy") and not names_operation("moonlight")


def test_words_without_an_operation_say_nothing() -> None:
    assert not is_recent_operation("pneumonia day 2")
