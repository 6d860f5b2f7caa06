from datetime import UTC, datetime

import pytest
from sqlalchemy import Engine

from app.catalogue.changes.change import FluidEntry, LimitValue, RuleSwitch
from app.catalogue.entry import EntryError
from app.review.changes.meanwhile import (
    apart,
    began_from,
    began_text,
    content_at,
    limit_named,
    meanwhile,
    value_text,
)
from app.review.knowledge import Past
from app.storage.database import reading
from tests.changing import LIMIT, RULE, drafted, in_force
from tests.unit.review.changes.conftest import DAY, HOUR, NOW

SUBJECT = f"limit:{RULE}/{LIMIT}"


def past(engine: Engine) -> Past:
    with reading(engine) as session:
        return Past.of(session)


def test_a_form_says_when_it_was_opened_to_the_instant() -> None:
    moment = datetime(2026, 2, 1, 12, 0, 0, 123456, tzinfo=UTC)
    assert began_from(began_text(moment), moment) == moment


@pytest.mark.parametrize("text", ["", "x", "2026-02-01T11:00", "2026-02-01T13:00+00:00"])
def test_a_form_from_nowhere_or_from_the_future_is_refused(text: str) -> None:
    with pytest.raises(EntryError):
        began_from(text, NOW)


def test_what_counts_where_nothing_was_changed_is_what_the_release_has(loaded: Engine) -> None:
    here = past(loaded)
    assert content_at(here, SUBJECT, NOW) == LimitValue(RULE, LIMIT, None)
    assert content_at(here, f"rule:{RULE}", NOW) == RuleSwitch(RULE, on=True)
    fluid = content_at(here, "fluid:dextrose-5", NOW)
    assert isinstance(fluid, FluidEntry) and fluid.document and fluid.document["kind"]
    assert content_at(here, "fluid:nonsuch", NOW) == FluidEntry("nonsuch", None)


def test_nothing_meanwhile_is_nothing(loaded: Engine) -> None:
    drafted(loaded, LimitValue(RULE, LIMIT, 6.2), NOW)
    assert meanwhile(past(loaded), SUBJECT, NOW + HOUR, NOW + DAY) is None
    assert meanwhile(past(loaded), "limit:k-hyper/other", NOW - DAY, NOW + DAY) is None


def test_a_draft_and_what_came_to_count_are_told_apart(loaded: Engine) -> None:
    in_force(loaded, LimitValue(RULE, LIMIT, 6.2), NOW)
    drafted(loaded, LimitValue(RULE, LIMIT, 5.8), NOW + HOUR)
    told = meanwhile(past(loaded), SUBJECT, NOW - HOUR, NOW + DAY)
    assert told is not None
    assert [str(d) for d in told.in_force] == [
        "plasma potassium that is high: 5.5 mmol/L, as shipped, then 6.2 mmol/L"
    ]
    ((filed, where),) = told.drafts
    assert filed.change.number == 2
    assert [str(d) for d in where] == ["plasma potassium that is high: 6.2 mmol/L, then 5.8 mmol/L"]


def test_a_rule_is_on_or_off() -> None:
    on, off = RuleSwitch(RULE, on=True), RuleSwitch(RULE, on=False)
    assert [str(d) for d in apart(on, off)] == ["the rule is: on, then off"]
    assert apart(off, off) == ()


def test_a_limit_that_the_release_no_longer_knows_is_told_by_its_name() -> None:
    gone = apart(LimitValue("old", "gone_mmol_l", None), LimitValue("old", "gone_mmol_l", 2.0))
    assert [str(d) for d in gone] == ["gone mmol l: as shipped, then 2"]
    assert limit_named("old", "gone_mmol_l") is None
    assert value_text(2.5, limit_named(RULE, LIMIT)) == "2.5 mmol/L"
