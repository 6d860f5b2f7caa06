"""What is told of stock is an act, without the note, which may speak of a patient."""

from collections.abc import Callable

from fastapi.testclient import TestClient
from httpx import Response

from app.storage.audit.chain import Link
from app.storage.audit.reading import Wanted, read_acts
from app.storage.database import reading

FLUID = "sodium-chloride-0.9"
Tell = Callable[..., Response]


def acts(ward: TestClient) -> tuple[Link, ...]:
    with reading(ward.app.state.engine) as session:  # type: ignore[attr-defined]
        return read_acts(session, Wanted(subject=f"stock:{FLUID}"), 5)


def test_an_act_says_who_told_and_from_what_to_what(ward: TestClient, tell: Tell) -> None:
    tell(FLUID, "short", note="six left for M.K. in bed 7")
    tell(FLUID, "out")
    newest, one_before = acts(ward)[:2]
    assert (newest.act, newest.before, newest.after) == (
        "told stock", '{"state":"short"}', '{"state":"out"}',
    )  # fmt: skip
    assert one_before.after == '{"state":"short"}'
    assert newest.account_id
    assert newest.who


def test_what_is_not_accepted_is_no_act(ward: TestClient, tell: Tell) -> None:
    before = acts(ward)
    assert tell(FLUID, "nowhere").status_code == 422
    assert acts(ward) == before
