"""`make bench`: every figure beside its yardstick from the same run, one JSON object a line.

Figures are medians over alternating rounds; only the ratios mean anything, for machines differ.
"""

import gc
import json
import os
import socket
import statistics
import subprocess
import sys
import tempfile
import time
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from app.main import OBJECTS_BEFORE_COLLECTION
from app.review.assess import review
from app.security.acts import Role
from app.storage.database import connect
from tests.benchmarks import lines, replay
from tests.benchmarks.load import load, request_bytes
from tests.benchmarks.prediction import figures
from tests.benchmarks.shift import API_REQUEST, as_if_new, forty_beds
from tests.people import COOKIE, key_for

ROUNDS = 5
SECONDS = 2.0
LOOP = 1_000_000


def say(name: str, value: float, unit: str, ratio_to: str, ratio: float) -> None:
    """One line of the result."""
    row = {"name": name, "value": round(value, 3), "unit": unit}
    print(json.dumps({**row, "ratio_to": ratio_to, "ratio": round(ratio, 4)}), flush=True)


def milliseconds(work: Callable[[], object]) -> float:
    """Wall time of one call, ms."""
    started = time.perf_counter()
    work()
    return (time.perf_counter() - started) * 1000


def plain_loop() -> int:
    """The yardstick of pure Python: a million additions."""
    total = 0
    for i in range(LOOP):
        total += i
    return total


def bench_core() -> None:
    """Review of a 40-bed shift of 160 orders, and the same ten times over."""
    cases, ruleset = forty_beds()
    gc.set_threshold(OBJECTS_BEFORE_COLLECTION)  # as in the server
    gc.freeze()
    orders = sum(len(case.orders) for case in cases)
    one, ten, loops = [], [], []
    for _ in range(ROUNDS):
        loops.append(milliseconds(plain_loop))
        once, often = as_if_new(cases), as_if_new(cases * 10)
        one.append(milliseconds(lambda new=once: [review(case, ruleset) for case in new]))
        ten.append(milliseconds(lambda new=often: [review(case, ruleset) for case in new]))
    loop, shift, large = map(statistics.median, (loops, one, ten))
    say(f"core review, {orders} orders", shift, "ms", "loop of 1e6 additions", shift / loop)
    say(
        f"core review, {orders * 10} orders", large, "ms", "ten times the above", large / shift / 10
    )


def bench_prediction() -> None:
    """A day of 500 people against 500 solutions of the same equations by scipy."""
    ours, theirs = figures(milliseconds, ROUNDS)
    name = "prediction, 24 h, 500 people"
    say(name, ours, "ms", f"500 scipy solutions ({theirs:.0f} ms)", theirs / ours)


def bench_lines() -> None:
    """Line plans of three sizes against the same model as a plain integer program."""
    for each in lines.figures(milliseconds):
        for row in lines.rows(each):
            say(*row)


def bench_replay() -> None:
    """A hospital's year of past orders under a changed limit."""
    for row in replay.rows(milliseconds):
        say(*row)


@contextmanager
def server(static: Path) -> Iterator[tuple[int, str]]:
    """The bench application on a free port over a fresh demo database: the port, and the cookie of
    a nurse who is signed in.
    """
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
    with tempfile.TemporaryDirectory() as folder:
        env = {
            **os.environ,
            "RINGSIDE_DEMO": "1",
            "RINGSIDE_DATABASE_URL": f"sqlite:///{folder}/bench.db",
            "BENCH_STATIC": str(static),
        }
        ringside = str(Path(sys.executable).parent / "ringside")
        for step in ("migrate", "load"):
            subprocess.run([ringside, step], env=env, check=True, stdout=subprocess.DEVNULL)
        command = [sys.executable, "-m", "uvicorn", "--factory", "--log-level", "warning"]
        command += ["--port", str(port), "tests.benchmarks.app:create_bench_app"]
        process = subprocess.Popen(command, env=env)
        try:
            _wait_for(port)
            yield port, f"{COOKIE}={_key(env['RINGSIDE_DATABASE_URL'])}"
        finally:
            process.terminate()
            process.wait()


def _key(url: str) -> str:
    engine = connect(url)
    try:
        return key_for(engine, Role.NURSE)
    finally:
        engine.dispose()


def _wait_for(port: int) -> None:
    for _ in range(200):
        try:
            urllib.request.urlopen(f"http://127.0.0.1:{port}/healthz").read()
            return
        except OSError:
            time.sleep(0.1)
    raise RuntimeError("the server did not start")


def _against(port: int, name: str, measured: bytes, yardstick: bytes, ratio_to: str) -> None:
    rates, bases, waits = [], [], []
    for _ in range(ROUNDS):
        bases.append(load(port, yardstick, seconds=SECONDS).per_second)
        seen = load(port, measured, seconds=SECONDS)
        rates.append(seen.per_second)
        waits.append(seen.p99_ms)
    rate, base = statistics.median(rates), statistics.median(bases)
    say(name, rate, "requests/s", f"{ratio_to} ({base:.0f} requests/s)", rate / base)
    say(f"{name}, p99 at 8 connections", statistics.median(waits), "ms", "none", 1.0)


def bench_server() -> None:
    """Pages against the same bytes served static; the review against a bare echo."""
    pages = {
        "shift page, nothing changed": "/",
        "shift page, everything changed": "/bench/shift-anew",
        "compare page of six fluids": "/compare?" + "&".join(f"fluid={f}" for f in SIX),
    }
    with tempfile.TemporaryDirectory() as folder, server(Path(folder)) as (port, cookie):
        for number, (name, path) in enumerate(pages.items()):
            page = urllib.request.Request(
                f"http://127.0.0.1:{port}{path}", headers={"Cookie": cookie}
            )
            with urllib.request.urlopen(page) as reply:
                (Path(folder) / f"{number}.html").write_bytes(reply.read())
            static = request_bytes(f"/bench/static/{number}.html")
            _against(port, name, request_bytes(path, cookie=cookie), static, "same bytes static")
        body = json.dumps(API_REQUEST).encode()
        _against(
            port,
            "POST /api/review of one order",
            request_bytes("/api/review", body),
            request_bytes("/bench/echo", body),
            "bare route echoing the same JSON",
        )


SIX = (
    "sodium-chloride-0.9",
    "lactated-ringers",
    "compound-sodium-lactate",
    "multiple-electrolytes-type-1-ph-7.4",
    "ringers-acetate",
    "dextrose-5",
)

if __name__ == "__main__":
    bench_core()
    bench_prediction()
    bench_lines()
    bench_replay()
    bench_server()
