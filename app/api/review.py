"""POST /api/review: one patient's orders reviewed."""

from typing import Annotated, Any

from fastapi import APIRouter, Depends, Request, Response

from app.api.reading import JsonReply, body_of, errors_reply, json_object
from app.api.shapes import Errors, ReviewReply, ReviewRequest
from app.intake.errors import InputError, InputErrors
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
def review_orders(request: Request, body: Annotated[bytes, Depends(body_of)]) -> Response:
    """Review a patient's orders: findings with reasons, what was not assessed, and loads."""
    knowledge = request.app.state.knowledge
    try:
        reviewed = review_request(json_object(body), knowledge)
    except (InputError, InputErrors) as problem:
        return errors_reply(problem)
    return JsonReply(reply_of(reviewed, knowledge.catalogue, knowledge.ruleset))
