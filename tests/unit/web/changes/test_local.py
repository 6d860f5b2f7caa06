"""What is the hospital's own, beside what the release has."""

from sqlalchemy import Engine

from app.catalogue.changes.change import LimitValue, RuleSwitch
from app.review.knowledge import Past
from app.storage.database import reading, transaction
from app.storage.seed import seed
from app.web.changes.local import Local, local_of
from tests.changing import LIMIT, RULE, drafted, in_force
from tests.conftest import LOADED
from tests.unit.review.changes.conftest import DAY, HOUR, NOW


def local(engine: Engine, days: float) -> Local:
    now = NOW + days * DAY
    with reading(engine) as session:
        past = Past.of(session)
    return local_of(past, past.at(now), now)


def test_own_limits_and_rules_off_are_told_with_who_when_and_why(engine: Engine) -> None:
    with transaction(engine) as session:
        seed(session, now=LOADED, demo=False)
    in_force(engine, LimitValue(RULE, LIMIT, 6.2), NOW)
    in_force(engine, RuleSwitch("k-rate", on=False), NOW)
    drafted(engine, LimitValue(RULE, LIMIT, 5.9), NOW + HOUR)
    found = local(engine, 1)
    own = found.own[RULE][LIMIT]
    assert (own.value, own.shipped, own.number) == ("6.2 mmol/L", "5.5 mmol/L", 1)
    assert "J. Birch, pharmacist" in own.signed and "approved by A. Rowan" in own.signed
    assert own.why == "agreed with the kidney unit" and not own.is_expired
    assert list(found.off) == ["k-rate"] and found.off["k-rate"].number == 2
    assert [row.number for row in found.open[RULE]] == [3]
    assert (found.limits, found.waiting, found.expired) == (1, 1, 0)
    late = local(engine, 400)
    assert late.expired == 2 and late.own[RULE][LIMIT].is_expired


def test_what_went_back_is_no_longer_the_hospitals_own(engine: Engine) -> None:
    in_force(engine, LimitValue(RULE, LIMIT, 6.2), NOW)
    in_force(engine, LimitValue(RULE, LIMIT, None), NOW + HOUR)
    in_force(engine, RuleSwitch("k-rate", on=False), NOW)
    in_force(engine, RuleSwitch("k-rate", on=True), NOW + HOUR)
    found = local(engine, 1)
    assert not found.own and not found.off
