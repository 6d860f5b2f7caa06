"""GET /shortage: a loss rehearsed on the unit, its plan on paper and as CSV. Nothing changes."""

from typing import Final

from fastapi import APIRouter, Request, Response
from fastapi.responses import RedirectResponse
from starlette.datastructures import FormData, QueryParams

from app.storage.database import reading
from app.web.render import SEE_OTHER, render
from app.web.shortage.as_csv import as_csv
from app.web.shortage.played import page_of, play
from app.web.shortage.view import PAGE, address
from app.web.show import clock_and_day

router: Final = APIRouter(include_in_schema=False)
UNREADABLE: Final = 422
TEMPLATE: Final = "shortage/page.html"
PAPER: Final = "shortage/plan.html"
PART: Final = "shortage/_rehearsal.html"
FILE_NAME: Final = "shortage-plan.csv"
CAUTION: Final = (
    "Supports your judgement, never replaces it. Local policy and the product label win."
)


@router.get(PAGE)
def rehearse_loss(request: Request) -> Response:
    """What a loss would do, as an address asks; words typed become an address of ids."""
    with reading(request.app.state.engine) as session:
        played = play(request, session, given_by(request.query_params))
    asked = played.asked
    if asked.loss is not None and asked.typed["add"]:
        return RedirectResponse(address(asked.loss, played.shelf.now), SEE_OTHER)
    view = page_of(request, played)
    return render(request, TEMPLATE, view, part=PART, status=UNREADABLE if asked.faults else 200)


@router.get(f"{PAGE}/plan")
def plan_on_paper(request: Request) -> Response:
    """The plan of a rehearsal, for one or two sheets of paper."""
    with reading(request.app.state.engine) as session:
        played = play(request, session, given_by(request.query_params))
    if played.rehearsal is None:
        return RedirectResponse(_back(request), SEE_OTHER)
    return render(request, PAPER, page_of(request, played))


@router.get(f"{PAGE}/plan.csv")
def plan_as_file(request: Request) -> Response:
    """The same plan as CSV."""
    with reading(request.app.state.engine) as session:
        played = play(request, session, given_by(request.query_params))
    result = page_of(request, played).result
    if result is None:
        return RedirectResponse(_back(request), SEE_OTHER)
    return Response(
        as_csv(result, CAUTION, clock_and_day(played.shelf.now)),
        media_type="text/csv; charset=utf-8",
        headers={
            "Content-Disposition": f'attachment; filename="{FILE_NAME}"',
            "Cache-Control": "no-store",
        },
    )


def given_by(fields: QueryParams | FormData) -> dict[str, list[str]]:
    """Every field with all its values, files left out."""
    return {name: [one for one in fields.getlist(name) if isinstance(one, str)] for name in fields}


def _back(request: Request) -> str:
    """Where nothing was picked, or something was not accepted: the form says so."""
    query = request.url.query
    return f"{PAGE}?{query}" if query else PAGE
