"""A sample as one of two people sees it."""

from datetime import UTC, datetime

from app.storage.samples.samples import Item, Mark, Sample, Verdict
from app.web.burden.sample_view import Sent, item_page, marks_for, sample_page

NOW = datetime(2026, 11, 25, 12, tzinfo=UTC)
TOLD = {"title": "Potassium 6.1", "why": "at 05:40", "do": "stop", "unless": ""}


def item(*marks: tuple[str, Verdict]) -> Item:
    made = tuple(Mark(v, "because", NOW, f"Person {who}", who) for who, v in marks)
    return Item(1, 1, 1, 7, "k-hyper", ("o1",), "critical", TOLD, made)


def state(one: Item, who: str) -> str:
    sample = Sample(1, 1, "seed", "", NOW, "R. Alder", (one,))
    return sample_page(sample, who, NOW).rows[0].state


def test_each_person_sees_only_the_own_mark_until_both_have_marked() -> None:
    once = item(("a", "useful"))
    assert state(once, "a") == "you: useful; waits for another"
    assert state(once, "b") == "to be marked by you"
    assert marks_for(once, "b") == ()
    assert [m.whose for m in marks_for(once, "a")] == ["You"]


def test_once_both_have_marked_both_are_shown_with_names() -> None:
    both = item(("a", "useful"), ("b", "wrong"))
    assert state(both, "c") == "differ: useful, wrong"
    assert [m.whose for m in marks_for(both, "b")] == ["Person a", "You"]
    assert state(item(("a", "wrong"), ("b", "wrong")), "a") == "both: wrong"


def test_a_finding_is_shown_as_it_was_and_says_what_each_word_means() -> None:
    sample = Sample(1, 1, "seed", "", NOW, "R. Alder", (item(),))
    page = item_page(sample, item(), None, "a", Sent().refused("Choose one."))
    assert (page.title, page.do, page.may_mark) == ("Potassium 6.1", "Stop.", True)
    assert [word for word, _ in page.verdicts] == ["useful", "not useful", "wrong"]
    assert page.sent.fault == "Choose one."
    marked = item_page(sample, item(("a", "useful")), None, "a", Sent())
    assert "shown once both have" in marked.note
    assert not marked.may_mark


def test_what_is_left_for_a_person_is_counted() -> None:
    sample = Sample(3, 1, "seed", "k-hyper", NOW, "R. Alder", (item(("a", "wrong")), item()))
    page = sample_page(sample, "a", NOW)
    assert (page.to_do, page.done, page.first) == (1, 0, "/burden/samples/3/1")
    assert page.of != "all rules"
