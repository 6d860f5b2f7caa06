"""Burden and precision in words."""

from datetime import UTC, datetime

from app.review.replay.count import Count
from app.storage.samples.samples import Item, Mark, Sample, Verdict
from app.web.burden.view import (
    agreement_of,
    day_rows,
    draws_of,
    lead_of,
    precision_rows,
    rule_rows,
    sample_row,
    setting_rows,
    shift_rows,
    verdict_of,
)

NOW = datetime(2026, 11, 25, 12, tzinfo=UTC)
HERE, THERE = ("2031-03-01", "ICU", "day"), ("2031-03-02", "adult ward", "day")
COUNT = Count(
    orders={HERE: 10, THERE: 30},
    found={
        (*HERE, "k-hyper", "critical"): 4,
        (*THERE, "ord-sodium-total", "warning"): 3,
        (*THERE, "ord-sodium-total", "info"): 9,
    },
)


def items(*verdicts: tuple[Verdict, Verdict], rule: str = "k-hyper", sample: int = 1) -> list[Item]:
    return [
        Item(
            n, sample, n, n, rule, ("o1",), "critical", {},
            tuple(Mark(v, "", NOW, "x", str(i)) for i, v in enumerate(pair)),
        )
        for n, pair in enumerate(verdicts, 1)
    ]  # fmt: skip


USEFUL: tuple[Verdict, Verdict] = ("useful", "useful")
WRONG: tuple[Verdict, Verdict] = ("wrong", "wrong")
SPLIT: tuple[Verdict, Verdict] = ("useful", "wrong")


def test_the_burden_in_one_sentence_and_against_the_target() -> None:
    assert lead_of(COUNT) == (
        "17.5 findings at warning or above for each 100 orders, 10 of them critical:"
        " 7 findings on 40 orders."
    )
    assert verdict_of(COUNT) == ("Our target is at most 25.", False)
    loud = Count(orders={HERE: 10}, found={(*HERE, "k-hyper", "warning"): 3})
    assert verdict_of(loud) == ("That is over our target of at most 25.", True)
    assert verdict_of(Count()) == ("", False)
    assert "no order" in lead_of(Count())


def test_rows_lead_to_their_rule_and_bars_are_shares_of_the_largest() -> None:
    rules = rule_rows(COUNT)
    assert [(row.href, row.burden, row.share) for row in rules] == [
        ("/rules/k-hyper", "10", 100.0), ("/rules/ord-sodium-total", "7.5", 75.0),
    ]  # fmt: skip
    assert [row.what for row in setting_rows(COUNT)] == ["ICU", "Adult ward"]
    assert [row.what for row in shift_rows(COUNT)] == ["Day"]
    assert [row.what for row in day_rows(COUNT)] == ["Sat 1 Mar", "Sun 2 Mar"]
    quiet = Count(orders={HERE: 10})
    assert [row.share for row in setting_rows(quiet)] == [0.0]


def test_too_few_is_said_in_words() -> None:
    every, rule = precision_rows(items(*[USEFUL] * 9), {1})
    assert (every.share, rule.share, rule.needed) == ("too few to say",) * 3
    assert "too few to say (9 of at least 10 marked)" in agreement_of(items(*[USEFUL] * 9))


def test_a_share_comes_with_its_interval() -> None:
    every, rule = precision_rows(items(*[USEFUL] * 6, *[SPLIT] * 2, *[WRONG] * 4), {1})
    assert (rule.marked, rule.both, rule.one, rule.neither) == ("12", "6", "2", "4")
    assert every.share == rule.share == "50% (25 to 75%)"
    assert rule.needed == "2"


def test_samples_of_one_rule_say_nothing_of_all() -> None:
    of_all = items(*[USEFUL] * 10)
    of_one = items(*[WRONG] * 10, rule="ord-sodium-total", sample=2)
    every, *_ = precision_rows([*of_all, *of_one], {1})
    assert (every.marked, every.both) == ("10", "10")


def test_agreement_is_told_with_its_kappa_or_why_there_is_none() -> None:
    half = [*[USEFUL] * 5, *[WRONG] * 5]
    assert agreement_of(items(*half)) == (
        "Two people said the same of 10 of 10 findings: Cohen’s kappa 1."
    )
    assert "not defined" in agreement_of(items(*[USEFUL] * 12))
    assert precision_rows([], set()) == ()


def test_what_only_one_has_marked_counts_for_nothing() -> None:
    once = [Item(1, 1, 1, 1, "k-hyper", (), "critical", {}, items(USEFUL)[0].marks[:1])]
    assert precision_rows(once, {1}) == ()


def test_a_sample_says_how_far_it_is_and_by_which_seed() -> None:
    row = sample_row(Sample(3, 1, "abc", "", NOW, "R. Alder"), 10, 4, "12:00")
    assert (row.of, row.far, row.seed) == ("all rules", "4 of 10 marked by two", "abc")
    assert row.href == "/burden/samples/3"


def test_rules_to_draw_from_stand_by_title() -> None:
    titles = [title for _, title in draws_of({"ord-water-total": 3, "k-hyper": 1})]
    assert titles == sorted(titles)
