"""What went wrong, in one voice: a page for people, the same facts as JSON for programs."""

from dataclasses import dataclass
from typing import Final

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse, Response
from sqlalchemy.exc import DataError
from starlette.exceptions import HTTPException

from app.intake.errors import InputError, InputErrors
from app.security.headers import HEADERS
from app.web.render import render

PROGRAM_ADDRESSES: Final = ("/api", "/cds-services", "/healthz", "/readyz", "/openapi.json")
UNREADABLE: Final = 422
SERVER_FAULT: Final = 500
TITLES: Final = {
    400: "That could not be read",
    403: "That was refused",
    404: "There is no such page",
    405: "That cannot be done here",
    413: "That is too much at once",
    422: "Something written is not accepted",
    500: "The fault is ours",
}
TEXTS: Final = {
    400: "The form arrived incomplete or garbled. Go back and send it again.",
    403: "It did not come from one of our own pages.",
    404: "The address may be mistyped, or the patient is no longer on the unit.",
    405: "This address is only read, or only written to; the link you came by is wrong.",
    413: "Send less at once.",
    422: "Nothing was reviewed and nothing was saved. What is accepted stands beside each field.",
    500: "Nothing was reviewed. Until it is mended, check the order as you would without us.",
}
NOT_KEPT: Final = "Something written holds a sign that cannot be kept. Nothing was saved."
OWN_TITLE: Final = "That did not work"
# What the framework says by itself; ours is clearer.
FRAMEWORK_WORDS: Final = frozenset(
    {"Not Found", "Method Not Allowed", "There was an error parsing the body"}
)


@dataclass(frozen=True, slots=True)
class FieldFault:
    """One field that was not accepted."""

    field: str
    value: str
    accepted: str


@dataclass(frozen=True, slots=True)
class ErrorPage:
    """What the error page may use."""

    status: int
    title: str
    text: str
    faults: tuple[FieldFault, ...] = ()


def refuse(
    request: Request, status: int, text: str = "", faults: tuple[FieldFault, ...] = ()
) -> Response:
    """The answer to a request that went wrong."""
    title = TITLES.get(status, OWN_TITLE)
    text = text or TEXTS.get(status, "")
    if request.url.path.startswith(PROGRAM_ADDRESSES):
        errors = [{"field": f.field, "value": f.value, "accepted": f.accepted} for f in faults]
        errors = errors or [{"field": "", "value": "", "accepted": f"{title}. {text}"}]
        return JSONResponse({"errors": errors}, status)
    return render(
        request, "errors/error.html", ErrorPage(status, title, text, faults), status=status
    )


def fault_of(error: InputError) -> FieldFault:
    """An input error as text."""
    return FieldFault(error.field, "" if error.value is None else str(error.value), error.accepted)


def _of_input(request: Request, error: Exception) -> Response:
    errors = error.errors if isinstance(error, InputErrors) else (error,)
    faults = tuple(fault_of(e) for e in errors if isinstance(e, InputError))
    return refuse(request, UNREADABLE, faults=faults)


def _of_shape(request: Request, error: Exception) -> Response:
    found = error.errors() if isinstance(error, RequestValidationError) else ()
    faults = tuple(
        FieldFault(".".join(map(str, e["loc"][1:])), str(e.get("input", "")), e["msg"])
        for e in found
    )
    return refuse(request, UNREADABLE, faults=faults)


def _of_data(request: Request, _error: Exception) -> Response:
    """A sign that the database does not keep, such as the one numbered 0."""
    return refuse(request, UNREADABLE, NOT_KEPT)


def _of_http(request: Request, error: Exception) -> Response:
    status = error.status_code if isinstance(error, HTTPException) else SERVER_FAULT
    detail = str(error.detail) if isinstance(error, HTTPException) else ""
    answer = refuse(request, status, "" if detail in FRAMEWORK_WORDS else detail)
    answer.headers.update(getattr(error, "headers", None) or {})
    return answer


def _of_fault(request: Request, _error: Exception) -> Response:
    answer = refuse(request, SERVER_FAULT)
    # This answer is made outside all middleware.
    answer.headers.update(HEADERS)
    return answer


def install(app: FastAPI) -> None:
    """Have every error of this app answered here."""
    app.add_exception_handler(InputError, _of_input)
    app.add_exception_handler(InputErrors, _of_input)
    app.add_exception_handler(RequestValidationError, _of_shape)
    app.add_exception_handler(HTTPException, _of_http)
    app.add_exception_handler(DataError, _of_data)
    app.add_exception_handler(Exception, _of_fault)
