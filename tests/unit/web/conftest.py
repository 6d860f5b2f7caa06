"""Clients of the app, as a browser without script and as htmx are."""

from collections.abc import Iterator

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient


@pytest.fixture
def client(app: FastAPI) -> Iterator[TestClient]:
    """A browser without script."""
    with TestClient(app, raise_server_exceptions=False) as client:
        yield client


@pytest.fixture
def htmx(app: FastAPI) -> Iterator[TestClient]:
    """htmx in a browser, asking for parts."""
    headers = {"HX-Request": "true"}
    with TestClient(app, raise_server_exceptions=False, headers=headers) as client:
        yield client
