"""The only place that joins things."""

import gc
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from typing import Final

import anyio.to_thread
from fastapi import Depends, FastAPI
from fastapi.staticfiles import StaticFiles
from sqlalchemy import Engine
from starlette.middleware import Middleware

from app.api import health
from app.api.router import router as api
from app.review.workflow import Bedside, Kept
from app.security import log
from app.security.door import Door
from app.security.headers import Guard
from app.security.oidc.asking import Asking
from app.security.oidc.provider import Desk
from app.settings import Settings, read_settings
from app.storage.database import connect, current, reading
from app.storage.past.keeping import Keeper
from app.storage.patients import read_unit
from app.web import (
    at_hand,
    catalogue,
    compare,
    errors,
    orders,
    patients,
    predict,
    render,
    rules,
    shift,
)
from app.web.account import house, own, sign_in, who_may
from app.web.account.voice import Voice
from app.web.accounts import accounts, tokens
from app.web.ahead import page as ahead
from app.web.audit import hazards
from app.web.audit import page as audit
from app.web.burden import page as burden
from app.web.burden import samples
from app.web.changes import draft, fluid_history, then
from app.web.changes import page as changes
from app.web.fluids import news
from app.web.fluids.edit import label
from app.web.fluids.edit import page as edit
from app.web.lines import page as lines
from app.web.pairs import gaps
from app.web.pairs import page as pairs
from app.web.proof import about, measured, receipts, trials, worked
from app.web.replay import page as replay
from app.web.replay import past as replay_past
from app.web.shortage import counting as shortage_counting
from app.web.shortage import kept as shortage_kept
from app.web.shortage import page as shortage

VERSION: Final = "0.1.0"
PAGES: Final = (
    render,
    sign_in,
    house,
    own,
    who_may,
    tokens,
    accounts,
    shift,
    patients,
    orders,
    receipts,
    compare,
    predict,
    worked,
    ahead,
    lines,
    edit,
    label,
    catalogue,
    pairs,
    gaps,
    news,
    shortage,
    shortage_counting,
    shortage_kept,
    measured,
    trials,
    rules,
    then,
    fluid_history,
    changes,
    draft,
    replay,
    replay_past,
    burden,
    samples,
    audit,
    hazards,
    about,
)
# More threads only queue for the one interpreter lock; with one, a slow page would stop the rest.
THREADS: Final = 2
# New objects before a collection: a page makes some ten thousand and leaves hardly a cycle.
OBJECTS_BEFORE_COLLECTION: Final = 20_000


def create_app(settings: Settings | None = None) -> FastAPI:
    """The web app. settings: read from the environment when not given."""
    app = FastAPI(
        title="Ringside",
        version=VERSION,
        docs_url=None,
        redoc_url=None,
        redirect_slashes=False,
        lifespan=_settled,
        middleware=[Middleware(Guard, refuse=errors.refuse), Middleware(Door, voice=Voice())],
    )
    app.state.settings = given = settings or read_settings()
    app.state.engine = connect(given.database_url, secret=given.trail_secret)
    app.state.asking = Asking(Desk(given.house), given.secret) if given.house else None
    at_hand.begin(app.state, app.state.engine)
    app.state.unit_name = _unit_name(app.state.engine)
    app.state.keeper = Keeper()
    app.state.kept_beds, app.state.kept_rows = Kept[Bedside](), Kept[shift.Row]()
    errors.install(app)
    app.mount("/static", StaticFiles(directory=render.STATIC), name="static")
    app.include_router(health.router)
    # Content that was approved meanwhile counts from its moment on, without a restart.
    fresh = [Depends(at_hand.fresh)]
    app.include_router(api, dependencies=fresh)
    for page in PAGES:
        app.include_router(page.router, dependencies=fresh)
    return app


@asynccontextmanager
async def _settled(_app: FastAPI) -> AsyncIterator[None]:
    """Whatever server runs the app: few threads, what was loaded is never searched again, and no
    word of a patient in its log.
    """
    log.install()
    anyio.to_thread.current_default_thread_limiter().total_tokens = THREADS
    before = gc.get_threshold()
    gc.set_threshold(OBJECTS_BEFORE_COLLECTION)
    gc.freeze()
    yield
    gc.unfreeze()
    gc.set_threshold(*before)


def _unit_name(engine: Engine) -> str:
    """The unit's name, or that nothing is loaded yet."""
    if current(engine) is None:
        return "No unit loaded"
    with reading(engine) as session:
        unit = read_unit(session)
    return unit.name if unit else "No unit loaded"
