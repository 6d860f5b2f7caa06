"""What came out of a replay, in words."""

from dataclasses import replace
from datetime import UTC, datetime

from app.review.replay.count import Count
from app.review.replay.tally import Changed, Tally
from app.storage.replays.results import ReplayResult
from app.web.replay.view import ROWS_SHOWN, Kept, kinds_of, lead_of, outcome_of, pace_of, verdict_of

NOW = datetime(2026, 11, 25, 12, tzinfo=UTC)
RESULT = ReplayResult(
    7, 4, NOW, "B. Birch", 3480, 4367, 31.2, 33.3, 6.1, 6.1, 2, 1, 92, 0, 5.0, "aaa", "bbb"
)
HERE = ("", "ICU", "day")
TALLY = Tally(
    Count(10, 0, 3, {HERE: 20}, {(*HERE, "k-hyper", "warning"): 4}),
    Count(10, 1, 5, {HERE: 20}, {(*HERE, "k-hyper", "critical"): 6}),
    {
        ("k-hyper", "ICU", "warning", "critical"): 4,
        ("k-hyper", "ICU", "", "critical"): 2,
        ("ord-sodium-total", "ICU", "info", ""): 30,
    },
    tuple(
        Changed(f"{n:04}", n, "ord-sodium-total", ("o1",), "info", "", "Sodium 400 mmol")
        for n in range(20)
    ),
)
NUMBERS = {
    "orders": 20, "seconds": 4.0, "where": "2 cores of this machine", "unread": 0,
    "not_assessed_before": 3, "not_assessed_after": 5,
}  # fmt: skip
VERSIONS = {
    "before": {"ruleset": "r1", "catalogue": "c"},
    "after": {"ruleset": "r2", "catalogue": "c"},
}
KEPT = Kept(RESULT, TALLY, NUMBERS, VERSIONS, "aaa")


def test_the_whole_in_one_sentence() -> None:
    assert lead_of(RESULT) == (
        "Of 3,480 past requests with 4,367 orders: of the findings, 2 would appear, 1 vanish,"
        " 92 change level."
    )
    same = replace(RESULT, appear=0, vanish=0, level=0)
    assert lead_of(same).endswith("not one finding would be another.")
    assert "not one finding" not in lead_of(replace(same, newly_unread=3))


def test_the_verdict_names_rise_and_cap() -> None:
    assert verdict_of(RESULT) == "+2.1 per 100 orders: within the cap of 5."
    over = verdict_of(replace(RESULT, burden_after=40.0))
    assert over == "+8.8 per 100 orders: over the cap of 5. Approval needs a written reason."
    lost = verdict_of(replace(RESULT, critical_lost=1))
    assert "1 critical finding would fall silent or be said more quietly" in lost
    assert "nothing can be said" in verdict_of(replace(RESULT, burden_before=None))


def test_each_rule_says_what_becomes_of_its_rows() -> None:
    rows = {row.rule_id: row for row in outcome_of(KEPT).rules}
    hyper = rows["k-hyper"]
    assert (hyper.appear, hyper.vanish, hyper.louder, hyper.quieter) == ("2", "0", "4", "0")
    assert (hyper.before, hyper.after) == ("20", "30")
    assert rows["ord-sodium-total"].vanish == "30"


def test_what_could_not_be_assessed_or_read_stands_beside_the_burden() -> None:
    figures = {one.name: one for one in outcome_of(KEPT).figures}
    assert figures["Checks that could not run"].change == "+2"
    assert figures["Requests that cannot be read"].after == "1"


def test_what_touches_a_critical_row_comes_first_and_not_all_rows_are_shown() -> None:
    kinds = kinds_of(TALLY, 4)
    assert [(kind.was, kind.would_be) for kind in kinds] == [
        ("warning", "critical"), ("not said", "critical"), ("info", "not said"),
    ]  # fmt: skip
    last = kinds[-1]
    assert (last.number, len(last.rows), last.more) == ("30", ROWS_SHOWN, 30 - ROWS_SHOWN)
    assert last.rows[0].href == "/changes/4/replay/past/0"


def test_a_replay_of_what_no_longer_counts_is_stale() -> None:
    assert not outcome_of(KEPT).stale
    assert outcome_of(replace(KEPT, in_force="ccc")).stale


def test_how_long_it_took_is_told() -> None:
    assert pace_of(NUMBERS) == "It took 4 s on 2 cores of this machine: 5 orders a second."
    assert pace_of({"orders": 0}) == "It took 0 s on this machine."


def test_only_versions_that_differ_are_told_twice() -> None:
    assert outcome_of(KEPT).versions == (("ruleset", "r1", "r2"), ("catalogue", "c", "c"))
