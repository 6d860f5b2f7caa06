"""The receipt of one finding as a file: of a patient on the unit, or of an order being written."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import Annotated, Final

from fastapi import APIRouter, Form, HTTPException, Request, Response
from starlette.datastructures import QueryParams

from app.intake.errors import InputError, InputErrors
from app.review.knowledge import Knowledge
from app.review.receipts.receipt import Receipt, file_name, receipts_of, text_of
from app.review.receipts.versions import versions_of
from app.review.workflow import now_in, pair_book, review_noted, review_patient
from app.storage.database import reading
from app.storage.patients import Bed, read_bed, read_unit
from app.web.order_form.form import asked, typed

router: Final = APIRouter(include_in_schema=False)
NOT_FOUND: Final = 404
OLDEST_PAGE: Final = timedelta(days=1)
LONGEST_TYPED: Final = 100_000


@router.get("/patients/{patient_id}/receipts/{number}")
def receipt_of_patient(
    request: Request, patient_id: str, number: int, at: str = "", rule: str = ""
) -> Response:
    """The receipt of one finding of a patient, made for the moment of the page."""
    knowledge: Knowledge = request.app.state.knowledge
    with reading(request.app.state.engine) as session:
        now = moment_of(at, now_in(read_unit(session)))
        bed = review_patient(session, knowledge, patient_id, now=now)
    if bed is None:
        raise HTTPException(NOT_FOUND, "No such patient is on the unit now.")
    about = {"bed": bed.bed, "initials": bed.initials}
    receipts = receipts_of(bed.request, bed.review, versions_of(knowledge), about)
    return _as_file(receipts, number, rule)


@router.post("/orders/receipts")
def receipt_of_order(
    request: Request,
    number: Annotated[int, Form()],
    words: Annotated[str, Form(alias="typed", max_length=LONGEST_TYPED)],
    at: Annotated[str, Form()] = "",
) -> Response:
    """The receipt of one finding of an order as typed. Nothing is saved."""
    form = typed(QueryParams(words))
    knowledge: Knowledge = request.app.state.knowledge
    with reading(request.app.state.engine) as session:
        now = moment_of(at, now_in(read_unit(session)))
        bed = read_bed(session, form.patient) if form.patient else None
        book = pair_book(session, knowledge)
    if form.patient and bed is None:
        raise HTTPException(NOT_FOUND, "No such patient is on the unit now.")
    try:
        made = asked(form, bed.request if bed else None, now).request
        asked_of, review = review_noted(made, knowledge, book, now=now)
    except (InputError, InputErrors) as error:
        raise HTTPException(
            NOT_FOUND, f"The order is not read, so none was made: {error}"
        ) from error
    receipts = receipts_of(asked_of, review, versions_of(knowledge), _about(bed))
    return _as_file(receipts, number)


def moment_of(text: str, now: datetime) -> datetime:
    """The moment of a page, in the unit's zone; now when it is not said. 404 for another day's."""
    if not text:
        return now
    try:
        at = datetime.fromisoformat(text)
        if abs(at - now) <= OLDEST_PAGE:
            return at.astimezone(now.tzinfo)
    except (ValueError, TypeError, OverflowError):
        pass
    raise HTTPException(NOT_FOUND, "This page is more than a day old. Open it again.")


def _about(bed: Bed | None) -> dict[str, str]:
    return {"bed": bed.bed, "initials": bed.initials} if bed else {}


def _as_file(receipts: Sequence[Receipt], number: int, rule: str = "") -> Response:
    receipt = receipts[number - 1] if 1 <= number <= len(receipts) else None
    if receipt is None or rule not in ("", receipt["rule_id"]):
        raise HTTPException(NOT_FOUND, "That finding is no longer there. Open the page again.")
    return Response(
        text_of(receipt),
        media_type="application/json",
        headers={
            "Content-Disposition": f'attachment; filename="{file_name(receipt)}"',
            "Cache-Control": "no-store",
        },
    )
