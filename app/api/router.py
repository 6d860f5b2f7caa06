"""Every route of the outside interface, behind the machine clients' token."""

from typing import Any, Final

from fastapi import APIRouter, Depends, HTTPException, Request
from fastapi.security import HTTPBearer

from app.api import fluids, line_plan, pairs, predict, review, rules
from app.api.shapes import Errors
from app.security.machines import SEND_A_TOKEN, Machine

# The door reads the token itself, before any body; this says so in the description.
TOKEN: Final = HTTPBearer(auto_error=False, description="a token that the administrator made")
REFUSALS: Final[dict[int | str, dict[str, Any]]] = {
    401: {"model": Errors, "description": "no token, or none that is known"},
    403: {"model": Errors, "description": "the token does not open this part"},
    413: {"model": Errors, "description": "more than can be sent at once"},
}


def known_client(request: Request) -> None:
    """The door has let the machine client in by its bearer token, for this part; else 401."""
    machine = getattr(request.state, "machine", None)
    if not isinstance(machine, Machine) or not machine.comes_in:
        raise HTTPException(401, detail=SEND_A_TOKEN, headers={"WWW-Authenticate": "Bearer"})


router = APIRouter(
    prefix="/api", dependencies=[Depends(TOKEN), Depends(known_client)], responses=REFUSALS
)
router.include_router(review.router)
router.include_router(predict.router)
router.include_router(line_plan.router)
router.include_router(fluids.router)
router.include_router(pairs.router)
router.include_router(rules.router)
