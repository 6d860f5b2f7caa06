"""A machine client of the outside interface."""

from collections.abc import Iterator

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient

DEMO_CLIENT = {"Authorization": "Bearer demo"}


@pytest.fixture
def client(app: FastAPI) -> Iterator[TestClient]:
    """A machine client whose token is known."""
    with TestClient(app, headers=DEMO_CLIENT) as opened:
        yield opened
