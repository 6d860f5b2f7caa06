import pytest

from app.security.acts import MAY, Act, Role
from app.security.gate import Open
from app.security.person import Person
from app.settings import Settings
from app.web.account.menu import admits, home_of, listed, roles_text
from tests.people import person_in

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
