"""From rows to a reviewed unit, at the unit's moment."""

import time
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import Engine, event, update

from app.catalogue.pairs.answer import PairBook
from app.catalogue.pairs.local_note import notes_on
from app.intake.errors import InputError
from app.review import workflow
from app.review.assess import Review
from app.review.knowledge import Knowledge
from app.review.workflow import (
    MOST_BEDS_KEPT,
    Bedside,
    Kept,
    current_knowledge,
    is_ready,
    knowledge_at_hand,
    now_in,
    pair_book,
    review_noted,
    review_patient,
    review_request,
    review_unit,
)
from app.storage.database import connect, migrate, reading, transaction
from app.storage.demo_files import DEMO
from app.storage.pairs.notes import sign_note
from app.storage.patients import Unit
from app.storage.seed import seed
from app.storage.tables import ObservationRow, OrderRow, UnitRow
from tests.conftest import LOADED
from tests.unit.review.pairs.conftest import signed

NOW = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)
REQUEST: dict[str, Any] = {
    "patient": {
        "age_years": 61,
        "observations": [
            {
                "name": "potassium",
                "value": 6.1,
                "unit": "mmol/L",
                "taken_at": "2031-03-04T05:00:00Z",
            }
        ],
    },
    "orders": [
        {
            "id": "o1",
            "fluid": "0.9% sodium chloride",
            "additives": [{"substance": "potassium chloride", "amount": 20, "unit": "mmol"}],
            "volume_ml": 1000,
            "rate_ml_h": 100,
        }
    ],
}


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    return Knowledge.from_seed()


@pytest.fixture
def ward(engine: Engine) -> Engine:
    with transaction(engine) as session:
        seed(session, now=LOADED, demo=True)
    return engine


def clock() -> datetime:
    return datetime.fromtimestamp(time.time(), UTC)


def follow_the_clock(engine: Engine) -> None:
    with transaction(engine) as session:
        session.execute(update(UnitRow).values(fixed_now=None))


def test_what_is_known_of_pairs_holds_the_notes_of_the_unit_s_own_day(engine: Engine) -> None:
    with transaction(engine) as session:
        seed(session, now=LOADED, demo=True)
        number = sign_note(session, signed("meropenem", "furosemide"))
    with reading(engine) as session:
        book = pair_book(session, current_knowledge(session))
    assert book.notes.on == NOW.date()
    assert [note.number for note in book.notes] == [number]
    assert len(book.facts.facts) > 300


def test_a_unit_that_stands_still_has_its_own_moment_in_its_own_zone() -> None:
    now = now_in(Unit("w", "W", "Asia/Kathmandu", NOW))
    assert now == NOW
    assert now.utcoffset() == timedelta(hours=5, minutes=45)


def test_a_unit_that_does_not_stand_still_follows_the_clock() -> None:
    for unit in (None, Unit("w", "W", "UTC", None)):
        assert abs(now_in(unit) - clock()) < timedelta(minutes=1)


def test_every_bed_of_the_unit_is_reviewed_at_the_units_moment(
    ward: Engine, knowledge: Knowledge
) -> None:
    with reading(ward) as session:
        bedsides = review_unit(session, knowledge)
    assert [bedside.bed for bedside in bedsides] == [f"{number:02d}" for number in range(1, 26)]
    assert {bedside.review.case.now for bedside in bedsides} == {NOW}
    assert all(bedside.review.orders for bedside in bedsides)


def test_a_unit_costs_seven_queries_whatever_its_size(ward: Engine, knowledge: Knowledge) -> None:
    asked: list[str] = []
    event.listen(ward, "before_cursor_execute", lambda *call: asked.append(call[2]))
    with reading(ward) as session:
        review_unit(session, knowledge)
    assert len([query for query in asked if query.startswith("SELECT")]) == 7


def look(ward: Engine, knowledge: Knowledge, kept: Kept[Bedside]) -> dict[str, Bedside]:
    """The unit by bed, as the board sees it each time it is asked for."""
    with reading(ward) as session:
        return {b.patient_id: b for b in review_unit(session, knowledge, kept)}


def anew(first: dict[str, Bedside], second: dict[str, Bedside]) -> set[str]:
    """The beds that were reviewed again."""
    assert first.keys() == second.keys()
    return {bed for bed in first if first[bed] is not second[bed]}


def test_beds_in_which_nothing_changed_are_not_reviewed_again(
    ward: Engine, knowledge: Knowledge
) -> None:
    kept = Kept[Bedside]()
    first = look(ward, knowledge, kept)
    assert anew(first, look(ward, knowledge, kept)) == set()
    with reading(ward) as session:
        assert tuple(first.values()) == review_unit(session, knowledge)


def test_one_new_result_has_its_bed_alone_reviewed_again(
    ward: Engine, knowledge: Knowledge
) -> None:
    kept = Kept[Bedside]()
    first = look(ward, knowledge, kept)
    bed = ObservationRow.patient_id == "bed-01"
    with transaction(ward) as session:
        session.execute(update(ObservationRow).where(bed).values(value=7.5))
    second = look(ward, knowledge, kept)
    assert anew(first, second) == {"bed-01"}
    assert second["bed-01"] == one_bed(ward, knowledge, "bed-01") != first["bed-01"]


def test_a_changed_order_has_its_bed_reviewed_again(ward: Engine, knowledge: Knowledge) -> None:
    kept = Kept[Bedside]()
    first = look(ward, knowledge, kept)
    with transaction(ward) as session:
        bed = OrderRow.patient_id == "bed-02"
        session.execute(update(OrderRow).where(bed).values(rate_ml_h=900.0))
    assert anew(first, look(ward, knowledge, kept)) == {"bed-02"}


def test_other_knowledge_has_every_bed_reviewed_again(ward: Engine, knowledge: Knowledge) -> None:
    kept = Kept[Bedside]()
    first = look(ward, knowledge, kept)
    no_rules = replace(knowledge, ruleset=knowledge.ruleset.only(()))
    second = look(ward, no_rules, kept)
    assert anew(first, second) == first.keys()
    assert not any(one.not_assessed for bed in second.values() for one in bed.review.orders)


def test_by_the_clock_a_bed_is_reviewed_again_each_minute(
    ward: Engine, knowledge: Knowledge, monkeypatch: pytest.MonkeyPatch
) -> None:
    follow_the_clock(ward)
    kept = Kept[Bedside]()

    def at(seconds: int) -> dict[str, Bedside]:
        monkeypatch.setattr(workflow, "now_in", lambda _: NOW + timedelta(seconds=seconds))
        return look(ward, knowledge, kept)

    first = at(0)
    assert anew(first, at(59)) == set()
    later = at(60)
    assert anew(first, later) == first.keys()
    assert {bed.review.case.now for bed in later.values()} == {NOW + timedelta(minutes=1)}


def test_no_more_beds_are_kept_than_a_hospital_has() -> None:
    kept, made = Kept[int](), count()
    for bed in range(3 * MOST_BEDS_KEPT):
        kept.get(f"bed-{bed}", "same", lambda: next(made))
    assert len(kept._by_bed) <= MOST_BEDS_KEPT


def one_bed(ward: Engine, knowledge: Knowledge, patient_id: str) -> Bedside | None:
    with reading(ward) as session:
        return review_patient(session, knowledge, patient_id)


def test_one_patient_is_reviewed_as_in_the_unit(ward: Engine, knowledge: Knowledge) -> None:
    with reading(ward) as session:
        alone = review_patient(session, knowledge, "bed-04")
        among_all = next(b for b in review_unit(session, knowledge) if b.patient_id == "bed-04")
    assert alone == among_all
    assert alone is not None
    assert alone.review.worst == 0


def test_an_unknown_patient_has_no_review(ward: Engine, knowledge: Knowledge) -> None:
    with reading(ward) as session:
        assert review_patient(session, knowledge, "bed-99") is None


def test_no_unit_has_no_beds(engine: Engine, knowledge: Knowledge) -> None:
    with reading(engine) as session:
        assert review_unit(session, knowledge) == ()


def test_a_bed_is_judged_by_the_clock_when_its_unit_follows_the_clock(
    ward: Engine, knowledge: Knowledge
) -> None:
    follow_the_clock(ward)
    with reading(ward) as session:
        bedside = review_patient(session, knowledge, "bed-04")
    assert bedside is not None
    assert abs(bedside.review.case.now - clock()) < timedelta(minutes=1)


def test_a_request_is_judged_at_its_own_moment_or_else_at_the_one_given(
    knowledge: Knowledge,
) -> None:
    own = review_request({**REQUEST, "now": "2031-03-04T09:00:00Z"}, knowledge, now=NOW)
    assert own.case.now == NOW.replace(hour=9, minute=0)
    assert review_request(REQUEST, knowledge, now=NOW).case.now == NOW


def test_the_same_request_is_critical_while_the_result_is_fresh_and_not_assessed_when_stale(
    knowledge: Knowledge,
) -> None:
    fresh = review_request(REQUEST, knowledge, now=NOW)
    stale = review_request(REQUEST, knowledge, now=NOW + timedelta(days=3))
    assert "k-hyper" in {found.rule.id for found in fresh.all_found}
    assert "k-hyper" not in {found.rule.id for found in stale.all_found}
    lacks = {lack.rule_id: lack.why for order in stale.orders for lack in order.not_assessed}
    assert lacks["k-hyper"] == "stale"


def test_what_cannot_be_read_is_raised_with_its_field(knowledge: Knowledge) -> None:
    with pytest.raises(InputError) as told:
        review_request({"orders": [{"fluid": "0.9% sodium chloride", "rate_ml_h": -1}]}, knowledge)
    assert told.value.field == "orders[0].rate_ml_h"


def test_a_database_is_ready_once_it_is_migrated_and_holds_a_catalogue(tmp_path: Path) -> None:
    engine = connect(f"sqlite:///{tmp_path / 'new.db'}")
    assert not is_ready(engine)
    migrate(engine)
    assert not is_ready(engine)
    with transaction(engine) as session:
        seed(session, now=LOADED, demo=False)
    assert is_ready(engine)
    engine.dispose()


def test_knowledge_today_comes_from_the_database(ward: Engine) -> None:
    with reading(ward) as session:
        assert current_knowledge(session).version == Knowledge.from_seed().version


def test_without_a_database_the_seed_data_serves_and_no_file_is_made(tmp_path: Path) -> None:
    path = tmp_path / "var" / "none.db"
    url = f"sqlite:///{path}"
    assert knowledge_at_hand(url).version == Knowledge.from_seed().version
    assert not path.parent.exists()


def test_a_database_that_is_not_ready_does_not_empty_the_catalogue(tmp_path: Path) -> None:
    url = f"sqlite:///{tmp_path / 'new.db'}"
    engine = connect(url)
    migrate(engine)
    engine.dispose()
    assert len(knowledge_at_hand(url).catalogue) > 0


LOUD = 2  # ranks below this are critical and warning
CALLS = {"04", "09", "15", "20", "22"}
CHECKS = {"14", "19", "21", "23", "24"}


def test_the_demo_board_is_short_and_its_calls_are_the_five_real_dangers(
    ward: Engine, knowledge: Knowledge
) -> None:
    with reading(ward) as session:
        worst = {b.bed: b.review.worst for b in review_unit(session, knowledge)}
    assert {bed for bed, rank in worst.items() if rank == 0} == CALLS
    assert {bed for bed, rank in worst.items() if rank == 1} == CHECKS


def test_a_bed_whose_file_calls_it_sound_raises_neither_call_nor_check(
    ward: Engine, knowledge: Knowledge
) -> None:
    with reading(ward) as session:
        worst = {b.patient_id: b.review.worst for b in review_unit(session, knowledge)}
    for path in sorted((DEMO / "patients").glob("*.toml")):
        sound = path.read_text(encoding="utf-8").startswith("# Sound")
        assert (worst[path.stem] >= LOUD) == sound, path.stem


MEETING: dict[str, Any] = {
    "patient": {"age_years": 60, "access": [{"id": "c1", "site": "central"}]},
    "co_infusions": [
        {"name": "norepinephrine 8 mg in 50 mL dextrose 5% 5 mL/h", "lumen": "c1"},
        {"name": "propofol 1% 10 mL/h", "lumen": "c1"},
        {"name": "nicardipine 5 mg/h infusion", "lumen": "c1"},
    ],
}


def said_of_lumens(review: Review) -> list[str]:
    return [f.finding.summary for f in review.all_found if f.rule.id == "line-shared-lumen"]


def test_a_signed_note_is_said_instead_of_no_data_and_can_be_found_again(
    knowledge: Knowledge,
) -> None:
    plain = PairBook(knowledge.pairs)
    request, before = review_noted(MEETING, knowledge, plain, now=NOW)
    assert request is MEETING
    assert any(
        "No data on norepinephrine with nicardipine" in one for one in said_of_lumens(before)
    )
    notes = signed("nicardipine", "norepinephrine"), signed("propofol", "nicardipine")
    book = PairBook(knowledge.pairs, notes_on((replace(notes[0], number=2), notes[1]), NOW.date()))
    noted, after = review_noted(MEETING, knowledge, book, now=NOW)
    told = said_of_lumens(after)
    assert not any("No data" in one for one in told)
    assert any("signed by R. Almeida, pharmacist, on 1 March 2031" in one for one in told)
    again = review_request(noted, knowledge, now=NOW)
    assert said_of_lumens(again) == told


def test_a_note_signed_for_what_runs_has_the_bed_reviewed_anew(
    ward: Engine, knowledge: Knowledge
) -> None:
    kept: Kept[Bedside] = Kept()
    first = look(ward, knowledge, kept)
    with transaction(ward) as session:
        sign_note(session, signed("dextrose-10", "parenteral_nutrition"))
    second = look(ward, knowledge, kept)
    noted = {bed for bed, one in second.items() if "local_notes" in one.request}
    assert noted
    assert noted <= anew(first, second)
