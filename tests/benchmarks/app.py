"""The application with its yardsticks beside it: the same bytes static, and a bare echo."""

import os
from pathlib import Path
from typing import Any

from fastapi import FastAPI
from starlette.staticfiles import StaticFiles

from app.main import create_app
from app.settings import read_settings


def create_bench_app() -> FastAPI:
    """As served, plus /bench/static/ (folder in BENCH_STATIC) and /bench/echo."""
    app = create_app(read_settings(os.environ))
    static = Path(os.environ["BENCH_STATIC"])
    app.mount("/bench/static", StaticFiles(directory=static))

    @app.post("/bench/echo")
    def echo(payload: dict[str, Any]) -> dict[str, Any]:
        return payload

    return app
