"""POST /api/review: one patient's orders reviewed."""

from typing import Annotated, Any

from fastapi import APIRouter, Depends, Request, Response

from app.api.reading import JsonReply, body_of, errors_reply, json_object, newest_stock
from app.api.shapes import Errors, ReviewReply, ReviewRequest
from app.intake.errors import InputError, InputErrors
from app.review.receipts.receipt import receipts_of
from app.review.receipts.versions import versions_of
from app.review.reply import reply_of
from app.review.workflow import review_request

router = APIRouter(tags=["review"])

# The body is read by the project's own reader, so its shape is told to OpenAPI here.
REQUEST_BODY: dict[str, Any] = {
    "requestBody": {
        "required": True,
        "content": {"application/json": {"schema": ReviewRequest.model_json_schema()}},
    }
}


@router.post(
    "/review",
    response_class=JsonReply,
    responses={200: {"model": ReviewReply}, 422: {"model": Errors}},
    openapi_extra=REQUEST_BODY,
)
def review_orders(
    request: Request, body: Annotated[bytes, Depends(body_of)], receipts: bool = False
) -> Response:
    """Review a patient's orders: findings with reasons, what was not assessed, and loads.

    receipts: add one for each finding, chained by their hashes.
    """
    knowledge = request.app.state.knowledge
    try:
        asked = json_object(body)
        reviewed = review_request(asked, knowledge)
        kept = receipts_of(asked, reviewed, versions_of(knowledge)) if receipts else ()
    except (InputError, InputErrors) as problem:
        return errors_reply(problem)
    stock = newest_stock(request)
    reply = reply_of(reviewed, knowledge.catalogue, knowledge.ruleset, knowledge.vehicles, stock)
    return JsonReply({**reply, "receipts": kept} if receipts else reply)
