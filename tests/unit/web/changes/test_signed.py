from datetime import UTC, datetime
from zoneinfo import ZoneInfo

from fastapi import FastAPI
from sqlalchemy import Engine

from app.security.acts import Role
from app.storage.database import reading
from app.web.changes.signed import here, signature_of
from tests.people import person_in

NOW = datetime(2026, 7, 1, tzinfo=UTC)


def test_whoever_is_a_pharmacist_signs_as_one() -> None:
    both = signature_of(person_in(Role.PHARMACIST, Role.NURSE), NOW)
    assert both.pharmacist and both.account_id == "a-test" and both.at == NOW
    assert not signature_of(person_in(Role.PRESCRIBER), NOW).pharmacist


def test_content_counts_by_the_real_clock_though_the_demo_stands_still(
    app: FastAPI, engine: Engine
) -> None:
    real = datetime.now(UTC)  # noqa: TID251 - what is tested is the clock
    with reading(app.state.engine) as session:
        moment = here(session)
    assert abs((moment - real).total_seconds()) < 3600
    assert isinstance(moment.tzinfo, ZoneInfo)
    with reading(engine) as session:
        assert here(session).tzinfo is UTC
