"""POST /api/predict: what an order would do to this patient."""

from datetime import UTC, datetime
from typing import Annotated, Any

from fastapi import APIRouter, Depends, Request, Response

from app.api.predict_shapes import PredictReply, PredictRequest
from app.api.reading import JsonReply, body_of, errors_reply, json_object
from app.api.shapes import Errors
from app.intake.errors import InputError, InputErrors
from app.review.predict.predict import predict
from app.review.predict.reply import reply_of

router = APIRouter(tags=["predict"])

# The body is read by the project's own reader, so its shape is told to OpenAPI here.
REQUEST_BODY: dict[str, Any] = {
    "requestBody": {
        "required": True,
        "content": {"application/json": {"schema": PredictRequest.model_json_schema()}},
    }
}


@router.post(
    "/predict",
    response_class=JsonReply,
    responses={200: {"model": PredictReply}, 422: {"model": Errors}},
    openapi_extra=REQUEST_BODY,
)
def predict_course(request: Request, body: Annotated[bytes, Depends(body_of)]) -> Response:
    """Predict chemistry and volumes over time, with ranges. Nothing is kept."""
    known = request.app.state.knowledge
    try:
        prediction = predict(
            json_object(body),
            catalogue=known.catalogue,
            vocabulary=known.vocabulary,
            now=datetime.now(UTC),
        )
    except (InputError, InputErrors) as problem:
        return errors_reply(problem)
    return JsonReply(reply_of(prediction))
