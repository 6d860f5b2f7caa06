"""GET /healthz and /readyz: for whatever watches the server."""

from typing import Any, Final

from fastapi import APIRouter, Request, Response
from sqlalchemy import text
from sqlalchemy.exc import SQLAlchemyError

from app.api.reading import JsonReply
from app.review.workflow import is_ready

router = APIRouter(tags=["health"])

NOT_NOW: Final = 503
SAID_OTHERWISE: Final[dict[int | str, dict[str, Any]]] = {
    NOT_NOW: {"description": "not now, and why"}
}


@router.get("/healthz", response_class=JsonReply, responses=SAID_OTHERWISE)
def healthz(request: Request) -> Response:
    """200 when the database answers."""
    try:
        with request.app.state.engine.connect() as connection:
            connection.execute(text("SELECT 1"))
    except SQLAlchemyError:
        return JsonReply({"database": "does not answer"}, status_code=NOT_NOW)
    return JsonReply({"database": "answers"})


@router.get("/readyz", response_class=JsonReply, responses=SAID_OTHERWISE)
def readyz(request: Request) -> Response:
    """200 when the database is at this release and the catalogue is loaded."""
    try:
        ready = is_ready(request.app.state.engine)
    except SQLAlchemyError:
        ready = False
    if not ready:
        told = {"database": "not ready; run ringside migrate, then ringside load"}
        return JsonReply(told, status_code=NOT_NOW)
    return JsonReply({"catalogue": request.app.state.knowledge.catalogue.version})
