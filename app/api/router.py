"""Every route of the outside interface, behind the machine clients' token."""

from typing import Annotated

from fastapi import APIRouter, Depends, Header, HTTPException, Request

from app.api import fluids, line_plan, pairs, predict, review, rules
from app.security.tokens import token_is_known


def known_client(request: Request, authorization: Annotated[str | None, Header()] = None) -> None:
    """Let a machine client in by its bearer token; 401 otherwise, saying how to send one."""
    if not token_is_known(authorization, request.app.state.settings.api_tokens):
        raise HTTPException(
            401,
            detail="Send the header “Authorization: Bearer TOKEN” with a token of this server.",
            headers={"WWW-Authenticate": "Bearer"},
        )


router = APIRouter(prefix="/api", dependencies=[Depends(known_client)])
router.include_router(review.router)
router.include_router(predict.router)
router.include_router(line_plan.router)
router.include_router(fluids.router)
router.include_router(pairs.router)
router.include_router(rules.router)
