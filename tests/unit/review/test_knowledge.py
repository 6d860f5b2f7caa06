"""What reviews are made with, from the files and from the database, at any moment."""

import json
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from typing import Any

import pytest
from sqlalchemy import Engine

from app.catalogue.changes.change import FluidEntry, LimitValue, RuleSwitch
from app.catalogue.document import document_of
from app.review.knowledge import Knowledge, Past, shipped
from app.review.reply import reply_of
from app.review.workflow import review_request
from app.storage.changes.versions import add_version
from app.storage.database import reading, transaction
from app.storage.seed import seed
from tests.changing import LIMIT, RULE, in_force

LOADED_AT = datetime(2026, 1, 1, 7, 5, tzinfo=UTC)
DAY = timedelta(days=1)
REQUEST: dict[str, Any] = {
    "now": "2026-02-03T07:00:00Z",
    "setting": "adult ward",
    "patient": {
        "age_years": 61,
        "weight_kg": 70,
        "conditions": ["acute kidney injury stage 3"],
        "observations": [
            {
                "name": "potassium",
                "value": 5.9,
                "unit": "mmol/L",
                "taken_at": "2026-02-03T05:00:00Z",
            }
        ],
        "access": [{"id": "p1", "site": "peripheral"}],
    },
    "orders": [
        {"id": "o1", "fluid": "lactated Ringer's", "volume_ml": 1000, "rate_ml_h": 125},
        {"id": "o2", "fluid": "0.9% sodium chloride", "volume_ml": 500, "rate_ml_h": 50},
    ],
}


@pytest.fixture
def loaded(engine: Engine) -> Engine:
    with transaction(engine) as session:
        seed(session, now=LOADED_AT, demo=False)
    return engine


def at(engine: Engine, moment: datetime) -> Knowledge:
    with reading(engine) as session:
        return Knowledge.at(session, moment)


def answer(knowledge: Knowledge) -> bytes:
    """A whole review's reply, byte for byte."""
    reviewed = review_request(REQUEST, knowledge)
    reply = reply_of(reviewed, knowledge.catalogue, knowledge.ruleset, knowledge.vehicles)
    return json.dumps(reply, ensure_ascii=False).encode()


def ringers(change: Callable[[dict[str, Any]], None]) -> FluidEntry:
    """Lactated Ringer's with something changed in its entry."""
    fluid = shipped().catalogue.get("lactated-ringers")
    assert fluid is not None
    document = document_of(fluid)
    change(document)
    return FluidEntry(fluid.id, document)


def noted(text: str) -> FluidEntry:
    return ringers(lambda document: document.update(note=text))


def test_files_and_database_tell_the_same(loaded: Engine) -> None:
    seeded, stored = Knowledge.from_seed(), at(loaded, LOADED_AT)
    assert stored.catalogue == seeded.catalogue
    assert stored.plasma == seeded.plasma
    assert stored.ruleset.version == seeded.ruleset.version
    assert stored.version == seeded.version


def test_a_local_limit_counts_from_its_moment_on_and_makes_another_version(loaded: Engine) -> None:
    noon = LOADED_AT + DAY
    in_force(
        loaded,
        LimitValue(RULE, LIMIT, 6.2),
        LOADED_AT + timedelta(hours=1),
        counts=noon.isoformat(),
    )
    before, after = at(loaded, noon - timedelta(seconds=1)), at(loaded, noon)
    assert before.ruleset.limits[RULE][LIMIT] == 5.5
    assert after.ruleset.limits[RULE][LIMIT] == 6.2
    assert before.version != after.version


def test_a_rule_that_is_switched_off_is_named_and_runs_no_more(loaded: Engine) -> None:
    in_force(loaded, RuleSwitch(RULE, on=False), LOADED_AT + DAY)
    then = at(loaded, LOADED_AT + 2 * DAY)
    assert RULE not in {rule.id for rule in then.ruleset.order_rules}
    (off,) = then.ruleset.switched_off
    assert (off.rule.id, off.by) == (RULE, "J. Birch and A. Rowan")
    assert off.since == LOADED_AT + DAY + timedelta(minutes=1)
    in_force(loaded, RuleSwitch(RULE, on=True), LOADED_AT + 3 * DAY)
    assert at(loaded, LOADED_AT + 4 * DAY).version == at(loaded, LOADED_AT).version


def test_an_empty_database_has_an_empty_catalogue_and_says_so_by_version(engine: Engine) -> None:
    stored = at(engine, LOADED_AT)
    assert len(stored.catalogue) == 0
    assert stored.version != Knowledge.from_seed().version


def test_yesterdays_answer_comes_out_the_same_to_the_byte_after_ten_edits(loaded: Engine) -> None:
    """Every answer along the way, too; and each edit did change the answer of its day."""
    edits = [
        LimitValue(RULE, LIMIT, 6.2),
        noted("First."),
        RuleSwitch(RULE, on=False),
        ringers(lambda document: document["composition_mmol_l"].update(sodium=131, chloride=110)),
        RuleSwitch(RULE, on=True),
        LimitValue(RULE, LIMIT, 5.2),
        FluidEntry("lactated-ringers", None),
        ringers(lambda document: document.update(osmolarity_labelled_mosm_l=274)),
        LimitValue(RULE, LIMIT, None),
        LimitValue(RULE, LIMIT, 4.9),
    ]
    then = [answer(at(loaded, LOADED_AT + DAY))]
    for day, edit in enumerate(edits, start=2):
        in_force(loaded, edit, LOADED_AT + day * DAY)
        then.append(answer(at(loaded, LOADED_AT + day * DAY + DAY / 2)))
    with transaction(loaded) as session:
        add_version(session, "dextrose-5", None, at=LOADED_AT + 20 * DAY, release="2")
    again = [answer(at(loaded, LOADED_AT + DAY))]
    again += [answer(at(loaded, LOADED_AT + day * DAY + DAY / 2)) for day in range(2, 12)]
    assert again == then
    assert all(one != next_ for one, next_ in pairwise(then))


def test_every_moment_from_which_something_else_counted_is_known(loaded: Engine) -> None:
    later = LOADED_AT + 5 * DAY
    in_force(loaded, noted("One."), LOADED_AT + DAY)
    in_force(loaded, noted("Two."), LOADED_AT + 2 * DAY, counts=later.isoformat())
    with reading(loaded) as session:
        moments = Past.of(session).moments()
    assert moments == (later, LOADED_AT + DAY + timedelta(minutes=1), LOADED_AT)
