"""`ringside serve`."""

import os
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from datetime import UTC, datetime

import pytest

from app.cli import main
from app.cli.serve import NO_SECRET, WAS_A_DEMO, doubts
from app.settings import Settings
from app.storage.people.accounts import Account

WANDA = Account(
    "a-1", "wanda", "Wanda Prill", frozenset({"administrator"}), "local",
    datetime(2026, 11, 25, tzinfo=UTC), demo=True,
)  # fmt: skip


def test_serving_an_unmigrated_database_says_what_to_do(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["serve"]) == 2
    assert "ringside migrate" in capsys.readouterr().err


def test_serving_on_an_open_address_is_refused_while_nobody_can_sign_in(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("RINGSIDE_DEMO", "0")
    main(["migrate"])
    capsys.readouterr()
    assert main(["serve", "--host", "0.0.0.0"]) == 2
    assert "HOST: '0.0.0.0' is not accepted" in capsys.readouterr().err


OK = 200


TRIES = 300


def answered(address: str) -> int:
    """The status an address answers with, once it listens: the address is printed just before."""
    for _ in range(TRIES):
        try:
            with urllib.request.urlopen(address, timeout=30) as reply:
                return int(reply.status)
        except urllib.error.URLError:
            time.sleep(0.1)
    raise AssertionError(f"{address} never answered")


def test_a_served_unit_answers_at_the_address_printed() -> None:
    main(["migrate"])
    main(["load"])
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    served = subprocess.Popen(
        [sys.executable, "-c", "from app.cli import main; main()", "serve", "--port", str(port)],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env=dict(os.environ),
    )
    try:
        assert served.stdout is not None
        line = served.stdout.readline()
        assert line == f"Ringside: http://127.0.0.1:{port}\n"
        assert "seven bags hung" in served.stdout.readline()
        assert "(Adaeze Oyelaran, educator)" in served.stdout.readline()
        assert answered(f"http://127.0.0.1:{port}/healthz") == OK
    finally:
        served.send_signal(signal.SIGINT)
        said = served.communicate(timeout=30)[1]
    assert said == ""


@pytest.mark.parametrize(
    ("settings", "people", "told"),
    [
        (Settings(demo=True), (WANDA,), ()),
        (Settings(trail_secret="sixteen letters!"), (), ()),
        (Settings(trail_secret="sixteen letters!"), (WANDA,), (WAS_A_DEMO,)),
        (Settings(), (), (NO_SECRET,)),
        (Settings(), (WANDA,), (WAS_A_DEMO, NO_SECRET)),
    ],
)
def test_a_real_unit_is_told_what_makes_it_doubtful(
    settings: Settings, people: tuple[Account, ...], told: tuple[str, ...]
) -> None:
    assert doubts(settings, people) == told
