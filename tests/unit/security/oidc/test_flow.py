"""There and back, with a provider that tells the truth and one that lies."""

import time

import httpx
import pytest

from app.security.oidc.claims import NotBelieved
from app.security.oidc.flow import Begun, StandsNoMore, ask_again, begin, finish
from app.security.oidc.house import House
from app.security.oidc.provider import Desk, OutOfReach
from tests.provider import Lies, Provider
from tests.unit.security.oidc.conftest import GoThere


def test_somebody_signs_in_and_is_known_by_subject_name_and_groups(
    desk: Desk, go_there: GoThere, now_s: int
) -> None:
    begun = begin(desk, now_s)
    stood = finish(desk, begun, go_there(begun, "mira"), now_s)
    assert (stood.told.subject, stood.told.name, stood.told.sign_in) == ("s-1", "Mira Tal", "mira")
    assert stood.told.groups == ("ward-nurses", "choir")
    assert stood.again


def test_a_code_is_good_for_one_signing_in(desk: Desk, go_there: GoThere, now_s: int) -> None:
    begun = begin(desk, now_s)
    back = go_there(begun, "mira")
    finish(desk, begun, back, now_s)
    with pytest.raises(NotBelieved, match="refused"):
        finish(desk, begun, back, now_s)


def test_what_one_browser_began_another_cannot_finish(
    desk: Desk, go_there: GoThere, now_s: int
) -> None:
    mine, theirs = begin(desk, now_s), begin(desk, now_s)
    with pytest.raises(NotBelieved, match="this browser"):
        finish(desk, mine, go_there(theirs, "mira"), now_s)


def test_a_stolen_code_is_useless_without_the_verifier(
    desk: Desk, go_there: GoThere, now_s: int
) -> None:
    begun = begin(desk, now_s)
    thief = Begun(begun.address, begun.state, begun.nonce, "x" * 48)
    with pytest.raises(NotBelieved, match="refused"):
        finish(desk, thief, go_there(begun, "mira"), now_s)


def test_somebody_the_house_does_not_know_is_told_so(
    desk: Desk, go_there: GoThere, now_s: int
) -> None:
    begun = begin(desk, now_s)
    with pytest.raises(NotBelieved, match="access_denied"):
        finish(desk, begun, go_there(begun, "nobody"), now_s)


LIES = {
    "for another client": Lies(claims={"aud": "another"}),
    "by another issuer": Lies(claims={"iss": "https://elsewhere.example"}),
    "out of date": Lies(claims={"exp": 1_000}),
    "from the future": Lies(claims={"iat": 9_999_999_999}),
    "of another request": Lies(claims={"nonce": "of-somebody-else"}),
    "without a nonce": Lies(left_out=("nonce",)),
    "without an end": Lies(left_out=("exp",)),
    "of nobody": Lies(left_out=("sub",)),
    "given to another party": Lies(claims={"aud": ["ringside", "other"], "azp": "other"}),
    "signed by a stranger": Lies(foreign_key=True),
    "not signed at all": Lies(unsigned=True),
    "not sent": Lies(no_id_token=True),
}


@pytest.mark.parametrize("lie", LIES.values(), ids=LIES.keys())
def test_an_id_token_is_not_believed_when_it_is(
    lie: Lies, desk: Desk, provider: Provider, go_there: GoThere, now_s: int
) -> None:
    begun = begin(desk, now_s)
    back = go_there(begun, "mira")
    provider.lies = lie
    with pytest.raises(NotBelieved):
        finish(desk, begun, back, now_s)


def test_another_provider_that_answers_in_its_place_is_not_believed(
    desk: Desk, go_there: GoThere, now_s: int
) -> None:
    begun = begin(desk, now_s)
    back = go_there(begun, "mira") | {"iss": "https://elsewhere.example"}
    with pytest.raises(NotBelieved, match="another provider"):
        finish(desk, begun, back, now_s)


def test_a_provider_that_has_changed_its_key_is_believed_after_a_minute(
    desk: Desk, provider: Provider, go_there: GoThere, now_s: int
) -> None:
    begun = begin(desk, now_s)
    finish(desk, begun, go_there(begun, "mira"), now_s)
    provider.turn_key()
    again = begin(desk, now_s)
    assert finish(desk, again, go_there(again, "mira"), now_s + 61).told.subject == "s-1"


def test_groups_that_stand_on_the_persons_page_only_are_read_there(
    desk: Desk, provider: Provider, go_there: GoThere, now_s: int
) -> None:
    provider.lies = Lies(groups_on_page_only=True)
    begun = begin(desk, now_s)
    assert finish(desk, begun, go_there(begun, "odd"), now_s).told.groups == ("pharmacy",)


def test_a_page_of_somebody_else_is_not_believed(
    desk: Desk, provider: Provider, go_there: GoThere, now_s: int
) -> None:
    provider.lies = Lies(groups_on_page_only=True, page_of_another=True)
    begun = begin(desk, now_s)
    with pytest.raises(NotBelieved, match="somebody else"):
        finish(desk, begun, go_there(begun, "odd"), now_s)


def test_asked_again_the_house_tells_groups_that_have_changed(
    desk: Desk, provider: Provider, go_there: GoThere, now_s: int
) -> None:
    begun = begin(desk, now_s)
    stood = finish(desk, begun, go_there(begun, "mira"), now_s)
    provider.people["mira"].groups = ["choir"]
    assert ask_again(desk, stood.again, "s-1", now_s).told.groups == ("choir",)


def test_asked_again_without_an_id_token_the_persons_page_is_read(
    desk: Desk, provider: Provider, go_there: GoThere, now_s: int
) -> None:
    begun = begin(desk, now_s)
    stood = finish(desk, begun, go_there(begun, "odd"), now_s)
    provider.lies = Lies(no_id_token_again=True, no_refresh=True)
    later = ask_again(desk, stood.again, "s-2", now_s)
    assert later.told.groups == ("pharmacy",)
    assert later.again == stood.again


def test_the_house_stands_no_more_for_somebody_who_left(
    desk: Desk, provider: Provider, go_there: GoThere, now_s: int
) -> None:
    begun = begin(desk, now_s)
    stood = finish(desk, begun, go_there(begun, "mira"), now_s)
    provider.people["mira"].here = False
    with pytest.raises(StandsNoMore):
        ask_again(desk, stood.again, "s-1", now_s)


def test_another_persons_answer_is_no_answer(desk: Desk, go_there: GoThere, now_s: int) -> None:
    begun = begin(desk, now_s)
    stood = finish(desk, begun, go_there(begun, "mira"), now_s)
    with pytest.raises(StandsNoMore):
        ask_again(desk, stood.again, "s-2", now_s)


@pytest.mark.parametrize("status", [401, 429, 500, 503])
def test_a_provider_in_trouble_says_nothing_of_the_person(
    status: int, desk: Desk, provider: Provider, go_there: GoThere, now_s: int
) -> None:
    begun = begin(desk, now_s)
    stood = finish(desk, begun, go_there(begun, "mira"), now_s)
    provider.lies = Lies(fault=status)
    with pytest.raises(OutOfReach):
        ask_again(desk, stood.again, "s-1", now_s)


def test_a_provider_that_does_not_answer_is_out_of_reach(house: House) -> None:
    def silent(_address: str, _access: str) -> dict[str, object]:
        raise OutOfReach("nothing there")

    with pytest.raises(OutOfReach):
        begin(Desk(house, silent), time.time())


def test_the_code_goes_to_the_token_address_and_nowhere_else(
    desk: Desk, go_there: GoThere, provider: Provider, now_s: int
) -> None:
    begun = begin(desk, now_s)
    back = go_there(begun, "mira")
    sent: list[tuple[str, str]] = []

    def post(address: str, form: dict[str, str], client: tuple[str, str]) -> httpx.Response:
        sent.append((address, form["code"]))
        return httpx.Response(400, request=httpx.Request("POST", address))

    with pytest.raises(NotBelieved):
        finish(desk, begun, back, now_s, post)  # type: ignore[arg-type]
    assert sent == [(f"{provider.address}/token", back["code"])]
