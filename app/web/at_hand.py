"""What pages and interface review with: what is in force now, in every worker, without restart."""

from datetime import UTC, datetime

from fastapi import Request
from sqlalchemy import Engine
from starlette.datastructures import State

from app.review.changes.at_hand import AtHand
from app.review.knowledge import Knowledge


def begin(state: State, engine: Engine) -> None:
    """When the server starts: what is in force now."""
    state.at_hand = AtHand(engine)
    _read(state)


def fresh(request: Request) -> None:
    """Before every request: what is in force at this moment stands ready in the app's state."""
    _read(request.app.state)


def _read(state: State) -> None:
    at_hand: AtHand = state.at_hand
    state.knowledge = at_hand.knowledge(datetime.now(UTC))


def knowledge(request: Request) -> Knowledge:
    """What is in force, as fresh() found it for this request or a newer one."""
    found: Knowledge = request.app.state.knowledge
    return found
