"""The app joined together."""

import gc
from pathlib import Path

import pytest
from anyio.to_thread import current_default_thread_limiter
from fastapi.testclient import TestClient

from app.main import THREADS, create_app
from app.settings import Settings


@pytest.fixture
def empty(tmp_path: Path) -> TestClient:
    """The app over a database that nothing was ever done to."""
    settings = Settings(database_url=f"sqlite:///{tmp_path / 'empty.db'}", demo=True)
    return TestClient(create_app(settings), raise_server_exceptions=False)


def test_before_any_migration_the_catalogue_is_the_seed(empty: TestClient) -> None:
    assert len(empty.app.state.knowledge.catalogue) > 40  # type: ignore[attr-defined]
    assert empty.app.state.unit_name == "No unit loaded"  # type: ignore[attr-defined]


def test_a_page_that_needs_the_database_fails_plainly_without_one(empty: TestClient) -> None:
    answer = empty.get("/")
    assert answer.status_code == 500
    assert "The fault is ours" in answer.text
    assert "Traceback" not in answer.text


def test_no_page_of_documentation_brings_scripts_from_elsewhere(empty: TestClient) -> None:
    assert empty.get("/docs").status_code == 404
    assert empty.get("/openapi.json").status_code == 200


def test_static_files_say_what_they_are(empty: TestClient) -> None:
    answer = empty.get("/static/app.css")
    assert answer.status_code == 200
    assert answer.headers["content-type"].startswith("text/css")
    assert answer.headers["x-content-type-options"] == "nosniff"


def test_whatever_server_runs_the_app_it_serves_with_few_threads_and_little_collecting(
    empty: TestClient,
) -> None:
    # Another test's app may be open in this process and have settled already.
    found = gc.get_threshold()
    gc.set_threshold(700)
    before = gc.get_threshold()
    with empty as served:
        assert served.portal is not None
        limiter = served.portal.call(current_default_thread_limiter)
        assert limiter.total_tokens == THREADS
        assert gc.get_freeze_count() > 0
        assert gc.get_threshold() > before
    assert gc.get_threshold() == before
    gc.set_threshold(*found)
