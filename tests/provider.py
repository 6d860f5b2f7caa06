"""A small house sign-in for the tests: OpenID Connect code flow, as much as a hospital's has.

It keeps to OpenID Connect Core 1.0 and RFC 7636 and can be told to lie, so that each lie is a test.
It is written against the standards and shares no code with app/security/oidc.
"""

import base64
import hashlib
import secrets
import socket
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Annotated, Any
from urllib.parse import urlencode

import uvicorn
from fastapi import FastAPI, Header, Request
from fastapi.responses import HTMLResponse, JSONResponse, RedirectResponse, Response
from joserfc import jwt
from joserfc.jwk import KeySet, RSAKey

CLIENT = "ringside"
SECRET = "the-secret-of-the-test-client"
STARTS_WITHIN_S = 20


@dataclass
class Somebody:
    """A person of the house."""

    subject: str
    name: str
    groups: list[str]
    here: bool = True


@dataclass
class Lies:
    """How the provider misbehaves: claims put in place of the true ones, and more."""

    claims: dict[str, Any] = field(default_factory=dict)
    left_out: tuple[str, ...] = ()
    foreign_key: bool = False
    unsigned: bool = False
    no_id_token: bool = False
    no_refresh: bool = False
    no_id_token_again: bool = False
    groups_on_page_only: bool = False
    page_of_another: bool = False
    fault: int = 0


@dataclass
class Provider:
    """Its state: people by the name they type, codes given out, what it lies about."""

    people: dict[str, Somebody] = field(default_factory=dict)
    lies: Lies = field(default_factory=Lies)
    address: str = ""
    seconds: int = 300
    key: RSAKey = field(
        default_factory=lambda: RSAKey.generate_key(2048, {"kid": "one", "use": "sig"})
    )
    codes: dict[str, dict[str, str]] = field(default_factory=dict)
    again: dict[str, str] = field(default_factory=dict)
    access: dict[str, str] = field(default_factory=dict)
    asked: list[str] = field(default_factory=list)

    def turn_key(self) -> None:
        """From now on it signs with another key."""
        kid = secrets.token_hex(4)
        self.key = RSAKey.generate_key(2048, {"kid": kid, "use": "sig"})

    def id_token(self, who: str, nonce: str | None) -> str:
        """Signed claims of a person."""
        person, now = self.people[who], int(time.time())
        claims: dict[str, Any] = {
            "iss": self.address, "aud": CLIENT, "sub": person.subject, "iat": now,
            "exp": now + self.seconds, "name": person.name, "preferred_username": who,
        }  # fmt: skip
        if nonce:
            claims["nonce"] = nonce
        if not self.lies.groups_on_page_only:
            claims["groups"] = person.groups
        claims |= self.lies.claims
        claims = {k: v for k, v in claims.items() if k not in self.lies.left_out}
        if self.lies.unsigned:
            return unsigned(claims)
        key = RSAKey.generate_key(2048, {"kid": "one"}) if self.lies.foreign_key else self.key
        return jwt.encode({"alg": "RS256", "kid": str(key.kid)}, claims, key)

    def tokens(self, who: str, nonce: str | None, *, again: bool = False) -> dict[str, Any]:
        """The answer of the token endpoint."""
        access, refresh = secrets.token_hex(8), secrets.token_hex(8)
        self.access[access] = who
        answer: dict[str, Any] = {
            "access_token": access, "token_type": "Bearer", "expires_in": self.seconds
        }  # fmt: skip
        if not self.lies.no_refresh:
            self.again[refresh] = who
            answer["refresh_token"] = refresh
        if not (self.lies.no_id_token or (again and self.lies.no_id_token_again)):
            answer["id_token"] = self.id_token(who, nonce)
        return answer


def unsigned(claims: dict[str, Any]) -> str:
    """The oldest trick: a token that says it needs no signature."""
    import json

    def part(value: object) -> str:
        return base64.urlsafe_b64encode(json.dumps(value).encode()).rstrip(b"=").decode()

    return f"{part({'alg': 'none'})}.{part(claims)}."


def app_of(provider: Provider) -> FastAPI:
    """The provider's addresses."""
    app = FastAPI()

    @app.middleware("http")
    async def note(request: Request, go_on: Any) -> Response:  # noqa: ANN401
        provider.asked.append(request.url.path)
        if provider.lies.fault:
            return JSONResponse({}, provider.lies.fault)
        answer: Response = await go_on(request)
        return answer

    add_description(app, provider)
    add_authorize(app, provider)
    add_token(app, provider)
    return app


def add_description(app: FastAPI, provider: Provider) -> None:
    """What it says of itself, of its keys and of people."""

    @app.get("/.well-known/openid-configuration")
    def configuration() -> dict[str, Any]:
        base = provider.address
        return {
            "issuer": base, "authorization_endpoint": f"{base}/authorize",
            "token_endpoint": f"{base}/token", "jwks_uri": f"{base}/keys",
            "userinfo_endpoint": f"{base}/person", "response_types_supported": ["code"],
            "subject_types_supported": ["public"],
            "id_token_signing_alg_values_supported": ["RS256"],
        }  # fmt: skip

    @app.get("/keys")
    def keys() -> dict[str, Any]:
        return dict(KeySet([provider.key]).as_dict(private=False))

    @app.get("/person", response_model=None)
    def person(authorization: Annotated[str, Header()] = "") -> JSONResponse | dict[str, Any]:
        who = provider.access.get(authorization.removeprefix("Bearer "))
        if who is None:
            return JSONResponse({"error": "invalid_token"}, 401)
        somebody = provider.people[who]
        subject = "another" if provider.lies.page_of_another else somebody.subject
        return {"sub": subject, "name": somebody.name, "groups": somebody.groups}


def add_authorize(app: FastAPI, provider: Provider) -> None:
    """Where the browser is sent."""

    @app.get("/authorize")
    def authorize(request: Request) -> Response:
        asked = dict(request.query_params)
        hidden = "".join(f'<input type="hidden" name="{k}" value="{v}">' for k, v in asked.items())
        return HTMLResponse(
            '<html lang="en"><title>House</title><form method="post" action="/authorize">'
            f'{hidden}<label>Name <input name="who"></label><button>Go on</button></form></html>'
        )

    @app.post("/authorize")
    async def chosen(request: Request) -> Response:
        asked = {key: str(value) for key, value in (await request.form()).items()}
        who = asked.pop("who")
        return go_back(provider, asked, who)


def add_token(app: FastAPI, provider: Provider) -> None:
    """Where codes and refresh tokens are taken back."""

    @app.post("/token", response_model=None)
    async def token(
        request: Request, authorization: Annotated[str, Header()] = ""
    ) -> JSONResponse | dict[str, Any]:
        form = {key: str(value) for key, value in (await request.form()).items()}
        expected = base64.b64encode(f"{CLIENT}:{SECRET}".encode()).decode()
        if authorization != f"Basic {expected}":
            return JSONResponse({"error": "invalid_client"}, 401)
        again = form.get("grant_type") == "refresh_token"
        given = refreshed(provider, form) if again else redeemed(provider, form)
        if given is None:
            return JSONResponse({"error": "invalid_grant"}, 400)
        return provider.tokens(given["who"], given.get("nonce"), again=again)


def refreshed(provider: Provider, form: dict[str, str]) -> dict[str, str] | None:
    """Whom a refresh token stands for; None when it is unknown or the person has left."""
    who = provider.again.get(form.get("refresh_token", ""), "")
    return {"who": who} if who and provider.people[who].here else None


def redeemed(provider: Provider, form: dict[str, str]) -> dict[str, str] | None:
    """Whom a code stands for; None when it is spent, for another address, or its proof is wrong."""
    given = provider.codes.pop(form.get("code", ""), None)
    if given is None or given["redirect_uri"] != form.get("redirect_uri"):
        return None
    digest = hashlib.sha256(form.get("code_verifier", "").encode()).digest()
    proof = base64.urlsafe_b64encode(digest).rstrip(b"=").decode()
    return given if proof == given["code_challenge"] else None


def go_back(provider: Provider, asked: dict[str, str], who: str) -> Response:
    """Back to the client with a code; somebody unknown is refused."""
    person = provider.people.get(who)
    answer = {"state": asked["state"]}
    if person is None or not person.here:
        answer["error"] = "access_denied"
    else:
        assert asked["response_type"] == "code" and "openid" in asked["scope"].split()
        assert asked["code_challenge_method"] == "S256" and asked["client_id"] == CLIENT
        code = secrets.token_hex(8)
        provider.codes[code] = {**asked, "who": who}
        answer |= {"code": code, "iss": provider.address}
    return RedirectResponse(f"{asked['redirect_uri']}?{urlencode(answer)}", 303)


@contextmanager
def running(provider: Provider) -> Iterator[Provider]:
    """The provider on a free port of this machine."""
    listener = socket.create_server(("127.0.0.1", 0))
    provider.address = f"http://127.0.0.1:{listener.getsockname()[1]}"
    server = uvicorn.Server(uvicorn.Config(app_of(provider), log_level="warning", ws="none"))
    thread = threading.Thread(target=server.run, kwargs={"sockets": [listener]}, daemon=True)
    thread.start()
    until = time.monotonic() + STARTS_WITHIN_S
    while not server.started:
        assert time.monotonic() < until, "the provider did not start"
        time.sleep(0.02)
    yield provider
    server.should_exit = True
    thread.join(STARTS_WITHIN_S)
    listener.close()
