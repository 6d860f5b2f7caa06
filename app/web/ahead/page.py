"""GET /predict/ahead: the short prediction, as a part of another page or by itself."""

from dataclasses import replace
from typing import Final

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from app.review.knowledge import Knowledge
from app.review.workflow import review_patient
from app.storage.database import reading
from app.storage.stock import read_stock
from app.web.ahead.ahead import PLACE, ahead_page
from app.web.fluids.news import news_of
from app.web.prediction.asked import read_asked
from app.web.render import render

router: Final = APIRouter(include_in_schema=False)
UNREADABLE: Final = 422
PAGE: Final = "ahead/ahead.html"
PART: Final = "ahead/_ahead.html"
LINE: Final = "ahead/_short.html"


@router.get("/predict/ahead")
def show_ahead(request: Request) -> HTMLResponse:
    """What a bag would do, in short, as an address of the whole prediction asks. Nothing is saved.

    The part takes the id of the place that asks for it: a page may hold several. A place for a
    line gets the sentences alone.
    """
    knowledge: Knowledge = request.app.state.knowledge
    patient = request.query_params.get("patient", "").strip()
    with reading(request.app.state.engine) as session:
        bedside = review_patient(session, knowledge, patient) if patient else None
        news = news_of(read_stock(session))
    asked = read_asked(request.query_params, knowledge.catalogue)
    view = ahead_page(asked, bedside, knowledge, request.headers.get("hx-target", PLACE))
    view = replace(view, news=news)
    part = LINE if view.place.startswith("line") else PART
    return render(request, PAGE, view, part=part, status=UNREADABLE if view.faults else 200)
