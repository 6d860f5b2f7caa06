"""What a person tells of a fluid's stock, kept and recorded as an act on what is offered."""

from fastapi import Request
from sqlalchemy.orm import Session

from app.catalogue.stock.stock import StockState
from app.storage.audit.acts import TOLD_STOCK
from app.storage.stock import read_told_of, tell_stock
from app.web.account.keeping import noted


def tell(request: Request, session: Session, fluid_id: str, told: StockState) -> None:
    """Keep it, with where the fluid was said to be before.

    The note stays out of the trail, which is kept for ever: people may write of a patient there.
    """
    last = read_told_of(session, fluid_id, 1)
    tell_stock(session, fluid_id, told)
    before = {"state": last[0].state} if last else None
    noted(
        request,
        session,
        TOLD_STOCK,
        f"stock:{fluid_id}",
        before=before,
        after={"state": told.state},
    )
