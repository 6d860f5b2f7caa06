"""The only place that joins things."""

from typing import Final

from fastapi import FastAPI
from fastapi.staticfiles import StaticFiles
from starlette.middleware import Middleware

from app.security.headers import Guard
from app.settings import Settings, read_settings
from app.web import errors, render

VERSION: Final = "0.1.0"


def create_app(settings: Settings | None = None) -> FastAPI:
    """The web app. settings: read from the environment when not given."""
    app = FastAPI(
        title="Ringside",
        version=VERSION,
        docs_url=None,
        redoc_url=None,
        middleware=[Middleware(Guard, refuse=errors.refuse)],
    )
    app.state.settings = settings or read_settings()
    errors.install(app)
    app.mount("/static", StaticFiles(directory=render.STATIC), name="static")
    app.include_router(render.router)
    return app
