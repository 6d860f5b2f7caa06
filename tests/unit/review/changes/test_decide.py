"""Approving, sending back, withdrawing: by whom, on what, once, and into the trail."""

import json
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from threading import Barrier

import pytest
from sqlalchemy import Engine, select

from app.catalogue.changes.allowed import NotAllowed
from app.catalogue.changes.change import LimitValue, RuleSwitch, Signature
from app.catalogue.entry import EntryError
from app.review.changes.decide import (
    NOT_REPLAYED,
    OVER_THE_CAP,
    REPLAYED_BEFORE,
    SILENCES,
    Reading,
    approve,
    reason_needed,
    send_back,
    withdraw,
)
from app.review.knowledge import Knowledge, shipped
from app.storage.audit.tables import TrailRow
from app.storage.changes.records import DecidedMeanwhile, read_history
from app.storage.database import reading, transaction
from tests.changing import LIMIT, RULE, asked, drafted, in_force, pharmacist, prescriber
from tests.unit.review.changes.conftest import DAY, HOUR, NOW

RAISED = LimitValue(RULE, LIMIT, 6.2)


@dataclass(frozen=True)
class Run:
    """A replay that came to its end."""

    id: int = 7
    over_cap: bool = False
    critical_lost: int = 0
    before: str = shipped().version


def reading_at(hours: float, reason: str = "", replay: Run | None = None) -> Reading:
    return Reading((NOW + hours * HOUR).isoformat(), reason, replay)


def decide(engine: Engine, number: int, how: Reading, by: Signature) -> None:
    with transaction(engine) as session:
        approve(session, number, how, by)


def test_an_approval_on_a_replay_needs_no_reason_and_keeps_the_replays_number(
    loaded: Engine,
) -> None:
    number = drafted(loaded, RAISED, NOW)
    decide(loaded, number, reading_at(1, replay=Run()), prescriber(NOW + HOUR))
    with reading(loaded) as session:
        (decision,) = read_history(session).filed[0].decisions
        assert Knowledge.at(session, NOW + HOUR).ruleset.limits[RULE][LIMIT] == 6.2
    assert (decision.replay, decision.reason) == ("7", "")


@pytest.mark.parametrize(
    ("replay", "why"),
    [
        (None, NOT_REPLAYED),
        (Run(over_cap=True), OVER_THE_CAP),
        (Run(before="other"), REPLAYED_BEFORE),
        (Run(critical_lost=1), SILENCES),
    ],
)
def test_without_a_good_replay_a_reason_must_be_written(
    loaded: Engine, replay: Run | None, why: str
) -> None:
    number, later = drafted(loaded, RAISED, NOW), prescriber(NOW + HOUR)
    for empty in ("", "   "):
        with pytest.raises(EntryError) as told:
            decide(loaded, number, reading_at(1, empty, replay), later)
        assert told.value.field == "reason"
        assert why in told.value.accepted
    decide(loaded, number, reading_at(1, "ward round of Monday", replay), later)


def test_a_reason_is_needed_for_one_thing_at_a_time() -> None:
    assert reason_needed(Run(), shipped().version) == ""
    assert reason_needed(Run(), shipped().version, silences=True) == SILENCES
    assert reason_needed(Run(over_cap=True, before="other"), shipped().version) == OVER_THE_CAP


def test_the_trail_tells_the_decision_and_what_came_in_whose_place(loaded: Engine) -> None:
    in_force(loaded, RAISED, NOW)
    number = drafted(loaded, LimitValue(RULE, LIMIT, 5.8), NOW + HOUR)
    decide(loaded, number, reading_at(2, "why"), prescriber(NOW + 2 * HOUR))
    with reading(loaded) as session:
        rows = session.scalars(select(TrailRow).order_by(TrailRow.seq.desc()).limit(2)).all()
    assert [row.subject for row in rows] == [f"limit:{RULE}/{LIMIT}", f"change:{number}"]
    assert json.loads(rows[0].before or "") == {"value": 6.2}
    assert json.loads(rows[0].after or "") == {"value": 5.8}
    assert json.loads(rows[1].after or "")["verdict"] == "approved"
    assert {row.who for row in rows} == {"A. Rowan"}


def test_nobody_decides_what_is_not_there(loaded: Engine) -> None:
    with pytest.raises(LookupError):
        decide(loaded, 9, reading_at(0), prescriber(NOW))


def test_a_refused_approval_leaves_no_trace(loaded: Engine) -> None:
    number = drafted(loaded, RAISED, NOW)
    with pytest.raises(NotAllowed, match="of their own"):
        decide(loaded, number, reading_at(1, "why"), pharmacist(NOW + HOUR))
    with reading(loaded) as session:
        assert read_history(session).filed[0].decisions == ()
        last = session.scalars(select(TrailRow.act).order_by(TrailRow.seq.desc())).first()
    assert last == "draft-change"


def test_who_read_before_something_else_came_to_count_reads_again(loaded: Engine) -> None:
    number = drafted(loaded, RAISED, NOW)
    in_force(loaded, LimitValue(RULE, LIMIT, 5.0), NOW + 2 * HOUR)
    with pytest.raises(NotAllowed, match="changed while you read"):
        decide(loaded, number, reading_at(1, "why"), prescriber(NOW + 3 * HOUR))
    decide(loaded, number, reading_at(3, "why"), prescriber(NOW + 3 * HOUR))


@pytest.mark.parametrize("seen", ["", "soon", "2099-01-01T00:00+00:00"])
def test_when_the_page_was_read_must_be_told(loaded: Engine, seen: str) -> None:
    number = drafted(loaded, RAISED, NOW)
    with pytest.raises(EntryError) as told:
        decide(loaded, number, Reading(seen, "why"), prescriber(NOW + HOUR))
    assert told.value.field == "based_on"


def test_what_is_sent_back_or_withdrawn_says_why_and_never_counts(loaded: Engine) -> None:
    back, gone = drafted(loaded, RAISED, NOW), drafted(loaded, RuleSwitch(RULE, on=False), NOW)
    later = prescriber(NOW + HOUR)
    with pytest.raises(EntryError), transaction(loaded) as session:
        send_back(session, back, " ", later)
    with transaction(loaded) as session:
        send_back(session, back, "too high", later)
        withdraw(session, gone, "not needed", pharmacist(NOW + HOUR))
    with reading(loaded) as session:
        history = read_history(session)
        assert Knowledge.at(session, NOW + DAY).version == shipped().version
    assert [history.state(one, NOW + DAY) for one in history] == ["sent back", "withdrawn"]
    for number in (back, gone):
        with pytest.raises(NotAllowed):
            decide(loaded, number, reading_at(2, "why"), prescriber(NOW + 2 * HOUR, "D. Oak"))


def test_a_waiting_change_is_withdrawn_before_its_moment_and_not_after(loaded: Engine) -> None:
    at = NOW + DAY
    number = in_force(loaded, RAISED, NOW, counts=at.isoformat())
    with pytest.raises(NotAllowed, match="by a new draft"), transaction(loaded) as session:
        withdraw(session, number, "too late", pharmacist(at))
    with transaction(loaded) as session:
        withdraw(session, number, "in time", pharmacist(at - HOUR))
    with reading(loaded) as session:
        assert Knowledge.at(session, at + HOUR).version == shipped().version


def test_a_draft_approved_after_its_moment_counts_from_its_approval(loaded: Engine) -> None:
    number = drafted(loaded, RAISED, NOW, counts=(NOW + HOUR).isoformat())
    decide(loaded, number, reading_at(5, "late"), prescriber(NOW + 5 * HOUR))
    with reading(loaded) as session:
        limits = [
            Knowledge.at(session, NOW + hours * HOUR).ruleset.limits[RULE][LIMIT]
            for hours in (2, 4.9, 5)
        ]
    assert limits == [5.5, 5.5, 6.2]


def test_of_two_who_decide_at_once_one_counts_and_the_other_is_told(loaded: Engine) -> None:
    number, together = drafted(loaded, RAISED, NOW), Barrier(2)

    def tried(name: str) -> str:
        together.wait()
        try:
            decide(loaded, number, reading_at(1, name), prescriber(NOW + HOUR, name))
        except (NotAllowed, DecidedMeanwhile):
            return "told"
        return "decided"

    with ThreadPoolExecutor(2) as pool:
        outcomes = sorted(pool.map(tried, ("D. Oak", "E. Fir")))
    assert outcomes == ["decided", "told"]
    with reading(loaded) as session:
        assert len(read_history(session).filed[0].decisions) == 1


def test_a_draft_sent_back_may_be_written_anew_by_whoever_may(loaded: Engine) -> None:
    number = drafted(loaded, RAISED, NOW)
    with transaction(loaded) as session:
        send_back(session, number, "too high", prescriber(NOW + HOUR))
    anew = NOW + 2 * HOUR
    again = drafted(loaded, LimitValue(RULE, LIMIT, 5.9), anew, revises=number)  # type: ignore[arg-type]
    with reading(loaded) as session:
        assert read_history(session).filed[-1].change.revises == number
    assert again == number + 1
    assert asked(anew).revises == 0


def test_what_silences_critical_examples_is_approved_with_a_reason_only(loaded: Engine) -> None:
    number, later = drafted(loaded, RAISED, NOW), prescriber(NOW + HOUR)
    seen = (NOW + HOUR).isoformat()
    with pytest.raises(EntryError) as told:
        decide(loaded, number, Reading(seen, "", Run(), silences=True), later)
    assert SILENCES in told.value.accepted
    decide(loaded, number, Reading(seen, "the kidney unit asked for it", Run(), True), later)
