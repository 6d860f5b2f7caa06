"""How the words say that two infusions share a line."""

import pytest

from app.intake.bedside.arrangement import arrangement_of, without_arrangement


@pytest.mark.parametrize(
    "written",
    ["LR stopped, line flushed", "between flushes", "lactated Ringer's paused and flushed",
     "calcium between units", "in turn", "after flush", "flushed before and after",
     "line flushed well", "one at a time", "stopped for the transfusion, then flushed",
     "with a saline flush between", "Hartmann's off and line flushed with saline"],
)  # fmt: skip
def test_one_after_the_other_with_a_flush_is_in_turn(written: str) -> None:
    assert arrangement_of(written) == "in turn"


@pytest.mark.parametrize(
    ("written", "arrangement"),
    [("line not flushed", ""), ("via separate cannula", "separate"), ("Y-site", "together"),
     ("2 g over 30 min", ""), ("2 units", "")],
)  # fmt: skip
def test_other_words_say_something_else(written: str, arrangement: str) -> None:
    assert arrangement_of(written) == arrangement


def test_the_name_stays_when_the_line_s_words_are_cut() -> None:
    assert without_arrangement("ceftriaxone 2 g, in turn").split() == ["ceftriaxone", "2", "g"]
