"""Out to the house's sign-in and back: authorization code with PKCE (RFC 7636), state, nonce."""

import hmac
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from typing import Any, Final

import httpx
from authlib.common.security import generate_token
from authlib.oauth2.rfc6749.parameters import prepare_grant_uri
from authlib.oauth2.rfc7636 import create_s256_code_challenge

from app.security.oidc.claims import NotBelieved, Told, believed, told_of
from app.security.oidc.provider import PATIENCE_S, Desk, OutOfReach, json_of

SCOPE: Final = "openid profile email offline_access"
RANDOM_LENGTH: Final = 48
KEPT_FOR_S: Final = 600
# RFC 6749 section 5.2: the grant itself is refused. Other errors say nothing of the person.
GRANT_REFUSED: Final = 400

Post = Callable[[str, Mapping[str, str], tuple[str, str]], httpx.Response]


@dataclass(frozen=True, slots=True)
class Begun:
    """What must be kept until the browser is back, and where it is sent meanwhile."""

    address: str = field(repr=False)
    state: str = field(repr=False)
    nonce: str = field(repr=False)
    verifier: str = field(repr=False)


@dataclass(frozen=True, slots=True)
class Stood:
    """The house stood for somebody. again: what it gave to ask again with; empty when nothing."""

    told: Told
    again: str = field(default="", repr=False)


class StandsNoMore(Exception):
    """The house was asked again and no longer stands for the person."""


def begin(desk: Desk, now_s: float) -> Begun:
    """Somebody sets out to sign in. Raises OutOfReach."""
    state, nonce = generate_token(RANDOM_LENGTH), generate_token(RANDOM_LENGTH)
    verifier = generate_token(RANDOM_LENGTH)
    house = desk.house
    address = prepare_grant_uri(
        desk.provider(now_s).authorize_at,
        house.client_id,
        "code",
        redirect_uri=house.return_address,
        scope=SCOPE,
        state=state,
        nonce=nonce,
        code_challenge=create_s256_code_challenge(verifier),
        code_challenge_method="S256",
    )
    return Begun(address, state, nonce, verifier)


def posted(address: str, form: Mapping[str, str], client: tuple[str, str]) -> httpx.Response:
    """One call of the token endpoint. Raises OutOfReach."""
    try:
        with httpx.Client(timeout=PATIENCE_S, trust_env=False) as http:
            return http.post(address, data=dict(form), auth=client)
    except httpx.HTTPError as error:
        raise OutOfReach(f"{address} does not answer ({type(error).__name__})") from error


def finish(
    desk: Desk, begun: Begun, back: Mapping[str, str], now_s: int, post: Post = posted
) -> Stood:
    """The browser is back with these query values. Raises NotBelieved or OutOfReach."""
    if not hmac.compare_digest(back.get("state", "").encode(), begun.state.encode()):
        raise NotBelieved("it is not the sign-in that this browser set out for")
    if "error" in back:
        raise NotBelieved(f"the house's sign-in said “{back['error'][:80]}”")
    if back.get("iss", desk.house.issuer) != desk.house.issuer:  # RFC 9207
        raise NotBelieved("another provider answered")
    form = {
        "grant_type": "authorization_code",
        "code": back.get("code", ""),
        "redirect_uri": desk.house.return_address,
        "code_verifier": begun.verifier,
    }
    return _stood(desk, _tokens(desk, form, now_s, post), now_s, nonce=begun.nonce)


def ask_again(desk: Desk, again: str, subject: str, now_s: int, post: Post = posted) -> Stood:
    """Does the house still stand for the person, and in which groups?

    Raises StandsNoMore when it refuses or speaks of somebody else; OutOfReach when it is silent.
    """
    form = {"grant_type": "refresh_token", "refresh_token": again, "scope": SCOPE}
    try:
        stood = _stood(desk, _tokens(desk, form, now_s, post), now_s, nonce=None)
    except NotBelieved as error:
        raise StandsNoMore from error
    if stood.told.subject != subject:
        raise StandsNoMore
    return Stood(stood.told, stood.again or again)


def _tokens(desk: Desk, form: Mapping[str, str], now_s: float, post: Post) -> Mapping[str, Any]:
    """What the token endpoint gave. Raises NotBelieved when it refused, OutOfReach when broken."""
    house = desk.house
    answer = post(desk.provider(now_s).tokens_at, form, (house.client_id, house.secret))
    if answer.status_code == GRANT_REFUSED:
        raise NotBelieved("the house's sign-in refused")
    return json_of(answer)


def _stood(desk: Desk, tokens: Mapping[str, Any], now_s: int, *, nonce: str | None) -> Stood:
    """The person the tokens speak of. A first signing in needs an ID token; asked again, a
    provider may leave it out, and the person's page is asked instead.
    """
    id_token, again = tokens.get("id_token"), tokens.get("refresh_token")
    if isinstance(id_token, str):
        told = _believed(desk, id_token, now_s, nonce)
        told = told if told.groups else _with_groups(desk, told, tokens, now_s)
    elif nonce is None:
        told = _from_page(desk, tokens, now_s)
    else:
        raise NotBelieved("it sent no ID token")
    return Stood(told, again if isinstance(again, str) else "")


def _believed(desk: Desk, id_token: str, now_s: int, nonce: str | None) -> Told:
    """Once more with fresh keys when the first try fails: providers change keys."""
    try:
        return believed(id_token, desk.keys(now_s), desk.house, now_s=now_s, nonce=nonce)
    except NotBelieved:
        fresh = desk.keys(now_s, newer=True)
        return believed(id_token, fresh, desk.house, now_s=now_s, nonce=nonce)


def _with_groups(desk: Desk, told: Told, tokens: Mapping[str, Any], now_s: int) -> Told:
    """Some providers tell groups on the person's page only (OpenID Connect Core 1.0, 5.3)."""
    if not desk.provider(now_s).person_at:
        return told
    page = _from_page(desk, tokens, now_s)
    if page.subject != told.subject:
        raise NotBelieved("its page speaks of somebody else")
    return replace(told, groups=page.groups)


def _from_page(desk: Desk, tokens: Mapping[str, Any], now_s: int) -> Told:
    address, access = desk.provider(now_s).person_at, tokens.get("access_token")
    if not address or not isinstance(access, str):
        raise NotBelieved("it says nothing of the person")
    return told_of(desk.fetch(address, access), desk.house)
