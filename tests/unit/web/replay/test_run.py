"""A run as a page shows it."""

from dataclasses import replace
from datetime import UTC, datetime

import pytest
from fastapi import HTTPException

from app.settings import Settings
from app.storage.replays.jobs import Run
from app.web.replay.run import numbered, run_view, where_of

NOW = datetime(2026, 11, 25, 12, tzinfo=UTC)
RUN = Run(7, 4, "running", 1200, 3480, NOW, NOW, None, "B. Birch", False, "s", "")


def test_how_far_it_is_in_words_and_percent() -> None:
    view = run_view(RUN, NOW)
    assert view is not None
    assert (view.done, view.total, view.percent) == ("1,200", "3,480", 34)
    assert (view.said, view.step) == ("Running, 25%", "running-25")


def test_a_run_that_is_to_stop_says_so_until_it_has() -> None:
    asked = run_view(replace(RUN, stop_asked=True), NOW)
    over = run_view(replace(RUN, stop_asked=True, state="cancelled", message="Stopped."), NOW)
    assert asked is not None
    assert over is not None
    assert asked.is_stopping
    assert (over.is_stopping, over.words, over.message) == (False, "Stopped", "Stopped.")


def test_without_a_run_there_is_nothing_to_show() -> None:
    assert run_view(None, NOW) is None


def test_it_runs_where_the_settings_say() -> None:
    assert where_of(Settings(dask_address="tcp://here:8786")).cluster == "tcp://here:8786"
    assert where_of(Settings()).cluster == ""


@pytest.mark.parametrize("number", [0, -1, 2**31])
def test_a_number_no_database_holds_is_no_page(number: int) -> None:
    with pytest.raises(HTTPException):
        numbered(number)
    assert numbered(5) == 5
