import pytest
from fastapi.testclient import TestClient

from app.security.acts import MAY, Act, Role
from app.security.gate import Open
from app.security.person import Person
from app.settings import Settings
from app.web.account.menu import admits, home_of, listed, roles_text
from tests.people import person_in
from tests.unit.conftest import ClientAs

SHUT, READ_BY_ALL = Settings(), Settings(open_reading=True)


@pytest.mark.parametrize("role", list(Role))
@pytest.mark.parametrize("act", list(Act))
def test_a_place_is_offered_to_whoever_may_enter_it(role: Role, act: Act) -> None:
    assert admits(act, person_in(role), SHUT) == (act in MAY[role])


def test_nobody_is_offered_what_is_open_to_all_and_no_more() -> None:
    assert admits(Open.ALL, None, SHUT)
    assert not admits(Open.SIGNED_IN, None, SHUT)
    assert admits(Open.SIGNED_IN, person_in(), SHUT)
    assert not admits(Act.READ_CATALOGUE, None, SHUT)
    assert admits(Act.READ_CATALOGUE, None, READ_BY_ALL)
    assert not admits(Act.SEE_PATIENTS, None, READ_BY_ALL)
    assert not admits(None, person_in(Role.PHARMACIST), READ_BY_ALL)


def test_roles_are_read_in_the_tables_order() -> None:
    assert roles_text(frozenset({Role.PHARMACIST, Role.NURSE})) == "nurse and pharmacist"
    assert roles_text(frozenset()) == "no role"


@pytest.mark.parametrize(
    ("words", "text"),
    [([], ""), (["a"], "a"), (["a", "b"], "a or b"), (["a", "b", "c"], "a, b or c")],
)
def test_words_are_listed_as_one_says_them(words: list[str], text: str) -> None:
    assert listed(words, "or") == text


def test_everybody_has_a_first_page_they_may_open() -> None:
    homes = {role: home_of(person_in(role)) for role in Role}
    assert homes[Role.ADMINISTRATOR] == "/accounts"
    assert homes[Role.EDUCATOR] == "/compare"
    assert {homes[role] for role in (Role.NURSE, Role.PRESCRIBER, Role.PHARMACIST)} == {"/"}
    assert home_of(Person("a", "N", frozenset(), "local")) == "/compare"


@pytest.mark.parametrize("role", list(Role))
def test_whoever_may_approve_is_led_to_what_waits_for_a_second_person(
    client_as: ClientAs, role: Role
) -> None:
    page = client_as(role).get("/rules").text
    assert ('href="/changes?state=draft"' in page) == (Act.APPROVE in MAY[role])


def test_nobody_signed_in_is_led_to_where_they_are_refused(client_as: ClientAs) -> None:
    educator, nurse = client_as(Role.EDUCATOR), client_as(Role.NURSE)
    for page, link in (
        ("/catalogue", "/shortage"),
        ("/catalogue/dextrose-5", "/catalogue/dextrose-5/counts"),
        ("/catalogue/dextrose-5", "/orders/new?fluid="),
    ):
        assert f'href="{link}' in nurse.get(page).text
        assert f'href="{link}' not in educator.get(page).text
    assert 'href="/burden"' not in client_as(Role.ADMINISTRATOR).get("/rules").text


def test_whoever_has_not_signed_in_is_led_on_and_asked_to(signed_out: TestClient) -> None:
    assert 'href="/shortage"' in signed_out.get("/catalogue").text
