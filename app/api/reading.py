"""Read a request body, and say what is wrong with it by field."""

from typing import Any, Final

import orjson
from fastapi import Request
from fastapi.responses import JSONResponse
from sqlalchemy.exc import OperationalError, ProgrammingError

from app.catalogue.stock.stock import NOTHING_TOLD, Stock
from app.intake.errors import InputError, InputErrors
from app.storage.database import reading
from app.storage.stock import read_stock

SHOWN_OF_A_BAD_BODY: Final = 80


class JsonReply(JSONResponse):
    """Ready data as JSON bytes; large lists go out without a second encoding."""

    def render(self, content: object) -> bytes:
        """Encode once."""
        return orjson.dumps(content)


async def body_of(request: Request) -> bytes:
    """The raw body, for routes that read JSON themselves."""
    return await request.body()


def json_object(body: bytes) -> dict[str, Any]:
    """The body as a JSON object. Raises InputError for broken JSON or another kind of value."""
    try:
        read = orjson.loads(body)
    except orjson.JSONDecodeError as error:
        start = body[:SHOWN_OF_A_BAD_BODY].decode(errors="replace")
        raise InputError("body", start, f"a JSON object ({error})") from error
    if not isinstance(read, dict):
        raise InputError("body", type(read).__name__, "a JSON object")
    return read


def newest_stock(request: Request) -> Stock:
    """What is told of stock at this moment; nothing where the database has no such table or does
    not answer, and each fluid is then "not told". Programs are answered without a database too.
    """
    try:
        with reading(request.app.state.engine) as session:
            return read_stock(session)
    except (OperationalError, ProgrammingError):
        return NOTHING_TOLD


def errors_reply(problem: InputError | InputErrors, status: int = 422) -> JsonReply:
    """`{"errors": [{field, value, accepted}]}` for one problem or several."""
    errors = problem.errors if isinstance(problem, InputErrors) else (problem,)
    rows = [{"field": e.field, "value": _shown(e.value), "accepted": e.accepted} for e in errors]
    return JsonReply({"errors": rows}, status_code=status)


def _shown(value: object) -> object:
    """The value as received where JSON can carry it, else as text."""
    return value if isinstance(value, str | int | float | bool | None) else str(value)
