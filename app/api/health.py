"""GET /healthz and /readyz: for whatever watches the server."""

from fastapi import APIRouter, Request, Response
from sqlalchemy import text
from sqlalchemy.exc import SQLAlchemyError

from app.api.reading import JsonReply

router = APIRouter(tags=["health"])

NOT_NOW = 503


@router.get("/healthz", response_class=JsonReply)
def healthz(request: Request) -> Response:
    """200 when the database answers."""
    try:
        with request.app.state.engine.connect() as connection:
            connection.execute(text("SELECT 1"))
    except SQLAlchemyError:
        return JsonReply({"database": "does not answer"}, status_code=NOT_NOW)
    return JsonReply({"database": "answers"})


@router.get("/readyz", response_class=JsonReply)
def readyz(request: Request) -> Response:
    """200 when the database is migrated and the catalogue is loaded."""
    knowledge = request.app.state.knowledge
    if knowledge is None or not len(knowledge.catalogue):
        return JsonReply({"catalogue": "not loaded; run ringside load"}, status_code=NOT_NOW)
    return JsonReply({"catalogue": knowledge.catalogue.version, "fluids": len(knowledge.catalogue)})
