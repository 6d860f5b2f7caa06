"""The one table, as everybody may read it."""

from fastapi.testclient import TestClient

from app.security.acts import MAY, Act, Role
from app.settings import Settings
from app.web.account.who_may import who_may_page
from tests.people import person_in
from tests.unit.conftest import ClientAs


def test_the_page_is_the_table() -> None:
    page = who_may_page(Settings(), None)
    assert page.roles == tuple(Role)
    assert len(page.lines) == len(Act)
    for act, line in zip(Act, page.lines, strict=True):
        assert line.act.casefold() == act.says.casefold()
        assert line.may == tuple(act in MAY[role] for role in Role)
    assert not any(line.anyone for line in page.lines)


def test_what_is_open_to_all_is_said_and_is_reading_alone() -> None:
    page = who_may_page(Settings(open_reading=True), person_in(Role.NURSE))
    assert [line.anyone for line in page.lines] == [act is Act.READ_CATALOGUE for act in Act]
    assert page.yours == "nurse"


def test_everybody_may_read_it(signed_out: TestClient, client_as: ClientAs) -> None:
    assert "You are signed in" not in signed_out.get("/who-may").text
    assert "You are signed in as educator." in client_as(Role.EDUCATOR).get("/who-may").text
