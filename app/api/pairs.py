"""GET /api/co-infusion: what is known of two things in one lumen, and what of it counts."""

from typing import Annotated, Any, Final

from fastapi import APIRouter, Query, Request, Response
from pydantic import BaseModel, ConfigDict
from sqlalchemy.exc import OperationalError, ProgrammingError

from app.api.reading import JsonReply, errors_reply
from app.api.shapes import Errors
from app.catalogue.pairs.answer import PairBook
from app.catalogue.pairs.fact import Scope, Verdict
from app.intake.errors import InputError, InputErrors
from app.intake.fluids import name_book
from app.review.knowledge import Knowledge
from app.review.pairs.reply import reply_of
from app.review.pairs.things import LONGEST, Thing, read_thing
from app.review.pairs.told import all_told
from app.review.workflow import pair_book
from app.storage.database import reading

router = APIRouter(tags=["co-infusion"])
NAMES: Final = "a drug, fluid, blood component or nutrition, by name or id"


class PairThing(BaseModel):
    """One of the two, as written and as understood."""

    written: str
    name: str
    id: str
    may_mean: list[str]
    ask: str | None


class PairReply(BaseModel):
    """The answer. keep_apart: also with no data, and on a condition that nobody has confirmed.
    confirm_with_pharmacy: that they may run together is from memory, or has no source.
    """

    model_config = ConfigDict(extra="allow")

    a: PairThing
    b: PairThing
    verdict: Verdict
    scope: Scope
    keep_apart: bool
    confirm_with_pharmacy: bool
    text: str
    why: str
    ambiguous: bool
    parts: list[dict[str, Any]]
    newborn: dict[str, Any] | None


@router.get(
    "/co-infusion",
    response_class=JsonReply,
    responses={200: {"model": PairReply}, 422: {"model": Errors}},
)
def co_infusion(
    request: Request, a: Annotated[str, Query()] = "", b: Annotated[str, Query()] = ""
) -> Response:
    """What is known of two things in one lumen: verdict, every fact behind it, which counts."""
    knowledge: Knowledge = request.app.state.knowledge
    try:
        one, other = things_asked(a, b, knowledge)
    except InputErrors as problems:
        return errors_reply(problems)
    book = newest_book(request)
    (told,) = all_told(book, (one, other))
    return JsonReply(reply_of(told, book))


def things_asked(a: str, b: str, knowledge: Knowledge) -> tuple[Thing, Thing]:
    """The two things. Raises InputErrors naming each that is not understood."""
    book = name_book(knowledge.catalogue, knowledge.vocabulary)
    one, other = read_thing("a", a, book), read_thing("b", b, book)
    faults = tuple(_fault(thing, sent) for thing, sent in ((one, a), (other, b)) if not thing.meant)
    if faults:
        raise InputErrors(faults)
    return one, other


def _fault(thing: Thing, sent: str) -> InputError:
    near = f"; near it: {', '.join(thing.choices)}" if thing.choices else ""
    asked = f" ({thing.ask})" if thing.written else ""
    return InputError(thing.id, sent[:LONGEST], f"{NAMES}{asked}{near}")


def newest_book(request: Request) -> PairBook:
    """The facts with the notes signed by now; without notes where there is no database."""
    knowledge: Knowledge = request.app.state.knowledge
    try:
        with reading(request.app.state.engine) as session:
            return pair_book(session, knowledge)
    except (OperationalError, ProgrammingError):
        return PairBook(knowledge.pairs)
