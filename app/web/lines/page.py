"""One patient's lines: the plan over the shift, what is told of lumens, and labels to print."""

from collections.abc import Mapping
from typing import Annotated, Final

from fastapi import APIRouter, Form, HTTPException, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse
from pydantic import BaseModel

from app.patient.lumen_told import LumenTold, State
from app.review.knowledge import Knowledge
from app.review.lines.bedside.problem import Means
from app.review.workflow import now_in, pair_book, review_patient
from app.storage.database import reading, transaction
from app.storage.lines.told import read_told, tell_lumen
from app.storage.patients import read_bed, read_unit
from app.storage.stock import read_stock
from app.web.lines.labels import labels_page
from app.web.lines.view import LinesPage, lines_page
from app.web.render import SEE_OTHER, render

router: Final = APIRouter(include_in_schema=False)
NOT_FOUND: Final = 404
UNREADABLE: Final = 422
LONGEST_NAME: Final = 60
NO_PATIENT: Final = "No such patient is on the unit now."


@router.get("/lines/{patient_id}")
def lines(request: Request, patient_id: str) -> HTMLResponse:
    """One patient's line plan over the shift."""
    return render(request, "lines/lines.html", _page(request, patient_id))


@router.get("/lines/{patient_id}/labels")
def labels(request: Request, patient_id: str) -> HTMLResponse:
    """Labels for every lumen of the plan, to be printed and cut."""
    return render(request, "lines/labels.html", labels_page(_page(request, patient_id)))


class TellForm(BaseModel):
    """What is sent of a lumen: its name by the button pressed, and who tells."""

    failed: str = ""
    works: str = ""
    back: str = ""
    by: str = ""


@router.post("/lines/{patient_id}/lumens")
def tell(request: Request, patient_id: str, sent: Annotated[TellForm, Form()]) -> Response:
    """Add what somebody tells of a lumen, and plan again."""
    told: Mapping[str, State]
    told = {sent.failed: "failed", sent.works: "works", sent.back: "as it was"}
    with transaction(request.app.state.engine) as session:
        bed = read_bed(session, patient_id)
        if bed is None:
            raise HTTPException(NOT_FOUND, NO_PATIENT)
        names = [one["id"] for one in bed.request["patient"]["access"]]
        lumen = next((name for name in told if name in names), None)
        if lumen is None:
            text = f"Lumen: this patient has {', '.join(names) or 'none'}."
            raise HTTPException(UNREADABLE, text)
        who = " ".join(sent.by.split())[:LONGEST_NAME]
        now = now_in(read_unit(session))
        tell_lumen(session, patient_id, LumenTold(lumen, told[lumen], now, who))
    return RedirectResponse(f"/lines/{patient_id}", SEE_OTHER)


@router.get("/lines/{patient_id}/lumens")
def back_to_lines(patient_id: str) -> Response:
    """Back to the plan: where looking again leads from a form that was not accepted."""
    return RedirectResponse(f"/lines/{patient_id}", SEE_OTHER)


def _page(request: Request, patient_id: str) -> LinesPage:
    knowledge: Knowledge = request.app.state.knowledge
    with reading(request.app.state.engine) as session:
        bed = review_patient(session, knowledge, patient_id)
        if bed is None:
            raise HTTPException(NOT_FOUND, NO_PATIENT)
        book, stock = pair_book(session, knowledge), read_stock(session)
        stands = read_told(session, patient_id)
    means = Means(knowledge.catalogue, knowledge.vehicles, knowledge.ruleset, book, stock)
    return lines_page(bed, means, stands)
