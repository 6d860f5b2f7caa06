"""How the provider describes itself, and what of it is not accepted."""

from collections.abc import Mapping
from typing import Any

import httpx
import pytest

from app.security.acts import Role
from app.security.oidc.house import House
from app.security.oidc.provider import Desk, OutOfReach, described, fetched, json_of
from tests.provider import Lies, Provider

HOUSE = House("https://house.example/realm/", "ringside", "https://r.example", {"g": Role.NURSE})
SOUND = {
    "issuer": HOUSE.issuer,
    "authorization_endpoint": "https://house.example/a?tenant=1",
    "token_endpoint": "https://house.example/t",
    "jwks_uri": "https://house.example/k",
}


def says(document: Mapping[str, Any]) -> Desk:
    return Desk(HOUSE, lambda _address, _access: document)


def test_the_description_is_read_at_the_issuers_address() -> None:
    asked: list[str] = []

    def fetch(address: str, _access: str) -> Mapping[str, Any]:
        asked.append(address)
        return SOUND

    assert described(HOUSE, fetch).tokens_at == "https://house.example/t"
    assert asked == ["https://house.example/realm/.well-known/openid-configuration"]


@pytest.mark.parametrize(
    "change",
    [
        {"issuer": "https://house.example/realm"},
        {"token_endpoint": "http://house.example/t"},
        {"token_endpoint": None},
        {"jwks_uri": "https://user@house.example/k"},
        {"authorization_endpoint": "javascript:alert(1)"},
    ],
)
def test_a_description_that_secrets_cannot_be_trusted_to_is_refused(
    change: dict[str, Any],
) -> None:
    with pytest.raises(OutOfReach):
        says(SOUND | change).provider(0)


def test_it_is_asked_once_an_hour() -> None:
    asked: list[str] = []

    def fetch(address: str, _access: str) -> Mapping[str, Any]:
        asked.append(address)
        return SOUND

    desk = Desk(HOUSE, fetch)
    for second in (0, 10, 3599, 3602):
        desk.provider(second)
    assert len(asked) == 2


def test_unknown_keys_are_looked_for_once_a_minute_at_most() -> None:
    asked: list[str] = []

    def fetch(address: str, _access: str) -> Mapping[str, Any]:
        asked.append(address)
        return SOUND if "well-known" in address else {"keys": []}

    desk = Desk(HOUSE, fetch)
    for second in (0, 1, 2, 30, 62, 63):
        desk.keys(second, newer=True)
    assert asked.count(str(SOUND["jwks_uri"])) == 2


def test_no_redirect_is_followed_and_no_error_believed() -> None:
    request = httpx.Request("GET", "https://house.example")
    for answer in (
        httpx.Response(302, headers={"location": "/x"}, request=request),
        httpx.Response(500, request=request),
        httpx.Response(200, text="<html>", request=request),
        httpx.Response(200, json=[1], request=request),
        httpx.Response(200, content=b"{" + b" " * 2_000_000 + b"}", request=request),
    ):
        with pytest.raises(OutOfReach):
            json_of(answer)


def test_an_address_where_nobody_is_cannot_be_reached() -> None:
    with pytest.raises(OutOfReach, match="does not answer"):
        fetched("http://127.0.0.1:9/")


def test_a_real_provider_is_read(provider: Provider, house: House) -> None:
    assert described(house).person_at == f"{provider.address}/person"
    provider.lies = Lies(fault=503)
    with pytest.raises(OutOfReach, match="503"):
        described(house)
