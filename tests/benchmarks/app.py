"""The application with its yardsticks beside it: the same bytes static, and a bare echo.

/bench/shift-anew is the shift page as if every bed had changed since it was last seen.
"""

import os
from pathlib import Path
from typing import Any, Final

from fastapi import FastAPI, Request
from fastapi.responses import HTMLResponse
from starlette.staticfiles import StaticFiles

from app.main import create_app
from app.review.workflow import Kept
from app.security.acts import Act
from app.security.door import Door
from app.security.gate import ADMITS, Gate, Open
from app.settings import read_settings
from app.web.shift import shift


def create_bench_app() -> FastAPI:
    """As served, plus /bench/static/ (folder in BENCH_STATIC) and the others under /bench."""
    app = create_app(read_settings(os.environ))
    _let_in(app)
    static = Path(os.environ["BENCH_STATIC"])
    app.mount("/bench/static", StaticFiles(directory=static))

    @app.post("/bench/echo")
    def echo(payload: dict[str, Any]) -> dict[str, Any]:
        return payload

    @app.get("/bench/shift-anew")
    def shift_anew(request: Request) -> HTMLResponse:
        app.state.kept_beds, app.state.kept_rows = Kept(), Kept()
        return shift(request)

    return app


# The yardsticks are open to all, so that a page is measured with the looking up of its session.
BENCHES: Final = {
    ("GET", "/bench/static/{name}"): Open.ALL,
    ("POST", "/bench/echo"): Open.ALL,
    ("GET", "/bench/shift-anew"): Act.SEE_PATIENTS,
}


def _let_in(app: FastAPI) -> None:
    """Have the door know the yardsticks' addresses as well."""
    for middleware in app.user_middleware:
        if middleware.cls is Door:
            middleware.kwargs["gate"] = Gate({**ADMITS, **BENCHES})
