"""One patient's lines: the plan over the shift, what is told of lumens, and labels to print."""

from collections.abc import Mapping
from typing import Annotated, Final

from fastapi import APIRouter, Form, HTTPException, Request, Response
from fastapi.responses import HTMLResponse, RedirectResponse
from pydantic import BaseModel
from sqlalchemy.orm import Session

from app.patient.lumen_told import LumenTold, Site, State, placed_in
from app.review.knowledge import Knowledge
from app.review.lines.bedside.problem import Means
from app.review.workflow import now_in, pair_book, review_patient
from app.storage.audit.acts import TOLD_LUMEN
from app.storage.database import reading, transaction
from app.storage.lines.told import read_told, tell_lumen
from app.storage.patients import Bed, read_bed, read_unit
from app.storage.stock import read_stock
from app.web.account.keeping import noted
from app.web.lines.labels import labels_page
from app.web.lines.view import LinesPage, lines_page
from app.web.render import SEE_OTHER, render
from app.web.who import signed_in

router: Final = APIRouter(include_in_schema=False)
NOT_FOUND: Final = 404
UNREADABLE: Final = 422
LONGEST_NAME: Final = 60
LONGEST_SIZE: Final = 20
SITES: Final[Mapping[str, Site]] = {"peripheral": "peripheral", "central": "central"}
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
    """What is sent of a lumen: its name by the button pressed, and sizes.

    of and size: the lumens of the form, and beside each its size as written.
    """

    failed: str = ""
    works: str = ""
    back: str = ""
    of: list[str] = []
    size: list[str] = []


class PlaceForm(BaseModel):
    """What is sent of a lumen that was placed."""

    where: str = ""
    site: str = ""
    size: str = ""


@router.post("/lines/{patient_id}/lumens")
def tell(request: Request, patient_id: str, sent: Annotated[TellForm, Form()]) -> Response:
    """Add what somebody tells of a lumen, and plan again."""
    told: Mapping[str, State]
    told = {sent.failed: "failed", sent.works: "works", sent.back: "as it was"}
    with transaction(request.app.state.engine) as session:
        bed = read_bed(session, patient_id)
        if bed is None:
            raise HTTPException(NOT_FOUND, NO_PATIENT)
        names = _names(bed, read_told(session, patient_id))
        lumen = next((name for name in told if name in names), None)
        if lumen is None:
            text = f"Lumen: this patient has {', '.join(names) or 'none'}."
            raise HTTPException(UNREADABLE, text)
        sizes = dict(zip(sent.of, sent.size, strict=False))
        size = _words(sizes.get(lumen, ""), LONGEST_SIZE)
        who, now = signed_in(request).name[:LONGEST_NAME], now_in(read_unit(session))
        _kept(request, session, patient_id, LumenTold(lumen, told[lumen], now, who, size))
    return RedirectResponse(f"/lines/{patient_id}", SEE_OTHER)


@router.post("/lines/{patient_id}/placed")
def place(request: Request, patient_id: str, sent: Annotated[PlaceForm, Form()]) -> Response:
    """Add a lumen that was placed, and plan again."""
    where, size = _words(sent.where, LONGEST_NAME), _words(sent.size, LONGEST_SIZE)
    with transaction(request.app.state.engine) as session:
        bed = read_bed(session, patient_id)
        if bed is None:
            raise HTTPException(NOT_FOUND, NO_PATIENT)
        names = _names(bed, read_told(session, patient_id))
        if not where or where.lower() in {name.lower() for name in names}:
            text = (
                f"Where: say the place, such as left hand; there are {', '.join(names) or 'none'}."
            )
            raise HTTPException(UNREADABLE, text)
        site = SITES.get(sent.site)
        if site is None:
            raise HTTPException(UNREADABLE, "Site: peripheral or central.")
        who, now = signed_in(request).name[:LONGEST_NAME], now_in(read_unit(session))
        _kept(request, session, patient_id, LumenTold(where, "placed", now, who, size, site))
    return RedirectResponse(f"/lines/{patient_id}", SEE_OTHER)


def _kept(request: Request, session: Session, patient_id: str, told: LumenTold) -> None:
    """Kept, and recorded by its number alone: the trail outlives the patient's stay."""
    number = tell_lumen(session, patient_id, told)
    noted(request, session, TOLD_LUMEN, f"lumen:{number}", after={"state": told.state})


def _words(text: str, longest: int) -> str:
    return " ".join(text.split())[:longest]


def _names(bed: Bed, stands: Mapping[str, LumenTold]) -> list[str]:
    """The lumens recorded, and those placed since."""
    recorded = [one["id"] for one in bed.request["patient"].get("access", [])]
    return recorded + [one.id for one in placed_in(stands) if one.id not in recorded]


@router.get("/lines/{patient_id}/placed")
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
