"""`ringside migrate`."""

import pytest

from app.cli import main
from app.storage.database import head


def test_migrating_and_loading_tell_what_they_did_and_then_that_nothing_was_to_do(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["migrate"]) == 0
    assert capsys.readouterr().out == f"Database made, at {head()}.\n"
    assert main(["migrate"]) == 0
    assert capsys.readouterr().out == f"Database at {head()}.\n"
    assert main(["load"]) == 0
    first = capsys.readouterr().out
    assert "loaded: sodium-chloride-0.9.toml" in first
    assert "loaded: bed-24.toml" in first
    assert main(["load"]) == 0
    assert capsys.readouterr().out.startswith("0 loaded, 0 changed, ")
    assert main(["load", "--all"]) == 0
    assert "unchanged: bed-24.toml" in capsys.readouterr().out
