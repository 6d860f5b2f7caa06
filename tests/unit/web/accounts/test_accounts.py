"""What an administrator keeps of others, each act of it in the trail."""

import re

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient
from sqlalchemy import text

from app.storage.database import reading
from app.storage.people.accounts import Account, find_account, read_account
from app.web.accounts.accounts import first_password
from tests.people import Clients
from tests.unit.web.account.conftest import enter


@pytest.fixture
def wanda(browser: TestClient) -> TestClient:
    """The administrator's browser."""
    enter(browser, "wanda")
    return browser


def acts(app: FastAPI) -> list[tuple[str, str]]:
    """What stands in the trail: act and subject."""
    with reading(app.state.engine) as session:
        rows = session.execute(
            text("SELECT act, subject FROM trail_row WHERE subject LIKE 'account:%' ORDER BY seq")
        )
        return [(row.act, row.subject) for row in rows]


def now(app: FastAPI, account_id: str) -> Account:
    with reading(app.state.engine) as session:
        found = read_account(session, account_id)
    assert found is not None
    return found


NEW = {"sign_in": "Odd", "name": "  Odd   Berg ", "role": ["nurse", "educator"]}


def test_somebody_added_comes_in_with_the_password_shown_once_and_chooses_another(
    own_app: FastAPI, wanda: TestClient, clients: Clients
) -> None:
    answer = wanda.post("/accounts", data=NEW)
    assert answer.status_code == 200
    (password,) = re.findall(r"<code>([0-9a-f-]+)</code>", answer.text)
    assert password not in wanda.get("/accounts").text
    other = clients(own_app, follow_redirects=False)
    assert enter(other, "odd", password).status_code == 303
    assert other.get("/").headers["location"] == "/account#password"
    own = "a bicycle in the long hall"
    data = {"old_password": password, "new_password": own, "new_password_again": own}
    assert other.post("/account/password", data=data).status_code == 303
    assert other.get("/").status_code == 200
    with reading(own_app.state.engine) as session:
        odd = find_account(session, "odd")
    assert odd is not None
    assert (odd.name, odd.roles) == ("Odd Berg", {"nurse", "educator"})
    assert acts(own_app) == [
        ("account added", f"account:{odd.id}"),
        ("own password changed", f"account:{odd.id}"),
    ]


@pytest.mark.parametrize(
    ("data", "said"),
    [
        ({**NEW, "sign_in": " "}, "Signs in as: Accepted: 1 to 80 characters."),
        ({**NEW, "sign_in": "x" * 81}, "Signs in as: Accepted"),
        ({**NEW, "name": ""}, "Name: Accepted: 1 to 80"),
        ({**NEW, "role": []}, "Roles: Accepted: at least one"),
        ({**NEW, "role": ["king"]}, "Roles: Accepted: at least one"),
        ({**NEW, "sign_in": "INES"}, "“ines” is the name of another account already."),
    ],
)
def test_what_is_not_accepted_of_a_new_account_is_said_and_what_was_typed_stays(
    own_app: FastAPI, wanda: TestClient, data: dict[str, object], said: str
) -> None:
    answer = wanda.post("/accounts", data=data)
    assert answer.status_code == 422
    assert said in answer.text
    if data["name"]:
        assert "Odd   Berg" in answer.text
    assert acts(own_app) == []


def test_other_roles_count_at_the_next_page_and_stand_in_the_trail_with_those_before(
    own_app: FastAPI, wanda: TestClient, people: dict[str, Account], clients: Clients
) -> None:
    ines = clients(own_app, follow_redirects=False)
    enter(ines)
    assert ines.get("/").status_code == 200
    number = people["ines"].id
    wanda.post(f"/accounts/{number}/roles", data={"role": ["educator"]})
    assert ines.get("/").status_code == 403
    assert ines.get("/compare").status_code == 200
    with reading(own_app.state.engine) as session:
        row = session.execute(
            text("SELECT before, after, who FROM trail_row WHERE act = 'roles changed'")
        ).one()
    assert tuple(row) == ('{"roles":["nurse"]}', '{"roles":["educator"]}', "Wanda Prill")


@pytest.mark.parametrize("roles", [[], ["king"], ["nurse", "king"]])
def test_no_role_and_a_role_that_is_none_are_refused(
    own_app: FastAPI, wanda: TestClient, people: dict[str, Account], roles: list[str]
) -> None:
    answer = wanda.post(f"/accounts/{people['ines'].id}/roles", data={"role": roles})
    assert answer.status_code == 422
    assert now(own_app, people["ines"].id).roles == {"nurse"}


def test_an_administrator_opens_no_patient_to_themselves(
    own_app: FastAPI, wanda: TestClient, people: dict[str, Account]
) -> None:
    roles = {"role": ["administrator", "nurse"]}
    answer = wanda.post(f"/accounts/{people['wanda'].id}/roles", data=roles)
    assert answer.status_code == 422
    assert "you cannot, of your own account, add a role" in answer.text
    assert now(own_app, people["wanda"].id).roles == {"administrator"}
    assert wanda.get("/").status_code == 403
    assert wanda.post(f"/accounts/{people['ines'].id}/roles", data=roles).status_code == 303


def test_an_administrator_cannot_lock_the_house_from_within(
    own_app: FastAPI, wanda: TestClient, people: dict[str, Account]
) -> None:
    number = people["wanda"].id
    assert wanda.post(f"/accounts/{number}/end").status_code == 422
    assert wanda.post(f"/accounts/{number}/roles", data={"role": ["nurse"]}).status_code == 422
    assert now(own_app, number).active
    page = wanda.get(f"/accounts/{number}").text
    assert "This is your own account." in page
    assert "End this account" not in page


def test_an_ended_account_is_out_at_once_and_may_be_opened_again(
    own_app: FastAPI, wanda: TestClient, people: dict[str, Account], clients: Clients
) -> None:
    ines = clients(own_app, follow_redirects=False)
    enter(ines)
    number = people["ines"].id
    wanda.post(f"/accounts/{number}/end")
    assert ines.get("/").status_code == 401
    assert enter(ines).status_code == 401
    assert "Open this account again" in wanda.get(f"/accounts/{number}").text
    wanda.post(f"/accounts/{number}/open")
    assert enter(ines).status_code == 303
    assert [act for act, _ in acts(own_app)] == ["account ended", "account opened again"]


def test_a_wait_is_seen_and_ended(
    own_app: FastAPI, wanda: TestClient, people: dict[str, Account], clients: Clients
) -> None:
    ines = clients(own_app, follow_redirects=False)
    for _ in range(5):
        enter(ines, password="wrong")
    assert enter(ines).status_code == 429
    number = people["ines"].id
    assert "5 wrong tries in a row." in wanda.get(f"/accounts/{number}").text
    wanda.post(f"/accounts/{number}/unlock")
    assert enter(ines).status_code == 303


def test_a_forgotten_password_is_made_anew_and_signs_out_everywhere(
    own_app: FastAPI, wanda: TestClient, people: dict[str, Account], clients: Clients
) -> None:
    ines = clients(own_app, follow_redirects=False)
    enter(ines)
    answer = wanda.post(f"/accounts/{people['ines'].id}/password")
    (password,) = re.findall(r"<code>([0-9a-f-]+)</code>", answer.text)
    assert ines.get("/").status_code == 401
    assert enter(ines).status_code == 401
    assert enter(ines, password=password).status_code == 303


def test_sessions_of_somebody_are_seen_and_ended(
    own_app: FastAPI, wanda: TestClient, people: dict[str, Account], clients: Clients
) -> None:
    ines = clients(own_app, follow_redirects=False)
    enter(ines)
    number = people["ines"].id
    assert "<td>open</td>" in wanda.get(f"/accounts/{number}").text
    wanda.post(f"/accounts/{number}/sessions/end")
    assert ines.get("/").status_code == 401
    assert "ended by an administrator" in wanda.get(f"/accounts/{number}").text


@pytest.mark.parametrize("act", ["roles", "password", "unlock", "end", "open", "sessions/end"])
def test_an_account_that_is_not_there_is_not_found(wanda: TestClient, act: str) -> None:
    answer = wanda.post(f"/accounts/a-none/{act}", data={"role": ["nurse"]})
    assert answer.status_code == 404
    assert wanda.get("/accounts/a-none").status_code == 404


def test_a_first_password_cannot_be_guessed_and_can_be_read_aloud() -> None:
    made = {first_password() for _ in range(50)}
    assert len(made) == 50
    assert all(re.fullmatch(r"[0-9a-f]{4}(-[0-9a-f]{4}){3}", one) for one in made)
