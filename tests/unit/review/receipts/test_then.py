"""A receipt is made again with the rules and fluids that were in force when it was made."""

import json
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from sqlalchemy import Engine

from app.catalogue.changes.change import LimitValue, RuleSwitch
from app.review.knowledge import Knowledge, Past
from app.review.receipts.reading import Kept, kept
from app.review.receipts.receipt import receipts_of, text_of
from app.review.receipts.recompute import Verdict, recomputed
from app.review.receipts.then import InForceThen
from app.review.receipts.versions import versions_of
from app.review.workflow import review_request
from app.storage.database import reading, transaction
from app.storage.seed import seed
from tests.changing import LIMIT, RULE, in_force
from tests.unit.review.receipts.conftest import REQUEST

DAY = timedelta(days=1)
START = datetime(2026, 1, 1, tzinfo=UTC)


@pytest.fixture
def changed(engine: Engine) -> Engine:
    """A unit that raised a limit, and later switched the rule off."""
    with transaction(engine) as session:
        seed(session, now=START, demo=False)
    in_force(engine, LimitValue(RULE, LIMIT, 5.8), START + DAY)
    in_force(engine, RuleSwitch(RULE, on=False), START + 3 * DAY)
    return engine


def past(engine: Engine) -> Past:
    with reading(engine) as session:
        return Past.of(session)


def receipts(knowledge: Knowledge, request: dict[str, Any]) -> list[Kept]:
    review = review_request(request, knowledge)
    made = receipts_of(request, review, versions_of(knowledge))
    return [kept(json.loads(text_of(one)), f"{one['number']}.json") for one in made]


def again(engine: Engine, found: list[Kept], *, knows: bool = True) -> tuple[Verdict, ...]:
    history = past(engine)
    then = InForceThen(history) if knows else None
    return recomputed(found, history.at(START + 9 * DAY), whole=True, then=then)


def request_at(moment: datetime) -> dict[str, Any]:
    return {**REQUEST, "now": moment.isoformat()}


@pytest.mark.parametrize("day", [0, 2, 4])
def test_a_receipt_of_any_day_comes_out_the_same_to_the_digit(changed: Engine, day: int) -> None:
    moment = START + day * DAY + DAY / 2
    found = receipts(past(changed).at(moment), request_at(moment))
    assert {verdict.state for verdict in again(changed, found)} == {"same"}


def test_a_unit_that_stands_still_at_its_own_moment_is_found_by_what_it_was_made_with(
    changed: Engine,
) -> None:
    found = receipts(past(changed).at(START + 2 * DAY), REQUEST)
    assert any(one.rule_id == RULE for one in found)
    told = again(changed, found)
    assert {verdict.state for verdict in told} == {"same"}
    assert "in force then" in told[0].text


def test_without_the_database_it_is_said_that_the_versions_are_not_at_hand(changed: Engine) -> None:
    found = receipts(past(changed).at(START + 2 * DAY), REQUEST)
    told = again(changed, found, knows=False)
    assert all("made with another ruleset" in verdict.text for verdict in told)
    own = next(v for v, one in zip(told, found, strict=False) if one.rule_id == RULE)
    assert own.state == "differs"


def test_what_was_never_in_force_here_is_not_at_hand(changed: Engine) -> None:
    here = past(changed)
    strange = here.at(START + 2 * DAY)
    limits = {**strange.ruleset.limits, RULE: {**strange.ruleset.limits[RULE], LIMIT: 5.1}}
    ruleset = strange.ruleset.of(strange.ruleset.order_rules, limits)
    found = receipts(strange.having(ruleset=ruleset), REQUEST)
    assert InForceThen(here)(found[0]) is None
    assert "made with another ruleset" in again(changed, found)[0].text
