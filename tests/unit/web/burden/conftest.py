"""A unit of one's own with a little past that has been counted, and two people to mark it."""

from collections.abc import Callable

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient

from app.review.replay.asked import in_force, terms_of_count
from app.review.replay.running import Plan, Where, run
from app.security.acts import Role
from app.storage.database import transaction
from app.storage.past.load import load_invented
from app.storage.replays import jobs
from tests.people import Clients
from tests.unit.web.replay.conftest import UNTIL, few, now

__all__ = ["few"]
Count = Callable[[], int]


@pytest.fixture
def count(own_app: FastAPI, few: object) -> Count:
    """count(): what is said of the past, counted in this test's own time; its number."""
    engine = own_app.state.engine

    def counted(seed: str = "seed") -> int:
        with transaction(engine) as session:
            load_invented(session, UNTIL, few)  # type: ignore[arg-type]
            two, terms = in_force(session, now()), terms_of_count(session, seed)
            run_id = jobs.ask(session, jobs.Asked(now(), "B. Birch", "a2", seed))
        run(Plan(engine, run_id, two, terms, 5.0, Where(workers=1)), now)
        return run_id

    return counted


@pytest.fixture
def nurse(own_app: FastAPI, clients: Clients) -> TestClient:
    """One person who marks."""
    return clients(own_app, Role.NURSE)


@pytest.fixture
def pharmacist(own_app: FastAPI, clients: Clients) -> TestClient:
    """Another."""
    return clients(own_app, Role.PHARMACIST)


@pytest.fixture
def prescriber(own_app: FastAPI, clients: Clients) -> TestClient:
    """A third."""
    return clients(own_app, Role.PRESCRIBER)
