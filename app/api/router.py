"""Every route of the outside interface, behind the machine clients' token."""

from typing import Annotated

from fastapi import APIRouter, Depends, Header, HTTPException, Request

from app.api import fluids, line_plan, pairs, predict, review, rules
from app.security.machines import SEND_A_TOKEN, Machine


def known_client(request: Request, authorization: Annotated[str | None, Header()] = None) -> None:
    """The door has let the machine client in by its bearer token, for this part; else 401."""
    machine = getattr(request.state, "machine", None)
    if not isinstance(machine, Machine) or not machine.comes_in:
        raise HTTPException(401, detail=SEND_A_TOKEN, headers={"WWW-Authenticate": "Bearer"})


router = APIRouter(prefix="/api", dependencies=[Depends(known_client)])
router.include_router(review.router)
router.include_router(predict.router)
router.include_router(line_plan.router)
router.include_router(fluids.router)
router.include_router(pairs.router)
router.include_router(rules.router)
