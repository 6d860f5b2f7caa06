"""POST /api/line-plan: which lumen carries what, and when."""

from typing import Annotated, Any

from fastapi import APIRouter, Depends, Request, Response

from app.api.line_plan_shapes import LinePlanReply, LinePlanRequest
from app.api.pairs import newest_book
from app.api.reading import JsonReply, body_of, errors_reply, json_object
from app.api.shapes import Errors
from app.intake.errors import InputError, InputErrors
from app.intake.fluids import name_book
from app.review.knowledge import Knowledge
from app.review.lines.pairs import plan_with_facts
from app.review.lines.reply import reply_of

router = APIRouter(tags=["line plan"])

# The body is read by the project's own reader, so its shape is told to OpenAPI here.
REQUEST_BODY: dict[str, Any] = {
    "requestBody": {
        "required": True,
        "content": {"application/json": {"schema": LinePlanRequest.model_json_schema()}},
    }
}


@router.post(
    "/line-plan",
    response_class=JsonReply,
    responses={200: {"model": LinePlanReply}, 422: {"model": Errors}},
    openapi_extra=REQUEST_BODY,
)
def line_plan(request: Request, body: Annotated[bytes, Depends(body_of)]) -> Response:
    """Plan lumens over time: the best plan, or what clashes and ways out. Nothing is kept."""
    known: Knowledge = request.app.state.knowledge
    names = name_book(known.catalogue, known.vocabulary)
    try:
        plan = plan_with_facts(json_object(body), names, newest_book(request))
    except (InputError, InputErrors) as problem:
        return errors_reply(problem)
    return JsonReply(reply_of(plan))
