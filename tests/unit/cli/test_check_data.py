"""`ringside check-data`."""

import pytest

from app.cli import main


def test_the_seed_data_is_sound(capsys: pytest.CaptureFixture[str]) -> None:
    status = main(["check-data"])
    assert capsys.readouterr().out == "seed_data/ is sound\n"
    assert status == 0
