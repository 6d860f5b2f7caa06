"""The provider's own description of itself and its keys, asked for when needed and kept a while."""

import threading
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, Final

import httpx

from app.security.oidc.house import House, HouseError, sound_address

DESCRIBED_AT: Final = "/.well-known/openid-configuration"
PATIENCE_S: Final = 10.0
KEPT_S: Final = 3600
# A token signed by an unknown key makes us look again, but not at every try.
KEYS_AGAIN_S: Final = 60
MOST_BYTES: Final = 1024 * 1024
BAD_ANSWER: Final = 400


@dataclass
class OutOfReach(Exception):
    """The house's sign-in does not answer, or not as OpenID Connect has it."""

    why: str

    def __str__(self) -> str:
        return f"The house's sign-in is out of reach: {self.why}."


@dataclass(frozen=True, slots=True)
class Provider:
    """Where to ask for what. person_at: its page of a person; empty when it has none."""

    authorize_at: str
    tokens_at: str
    keys_at: str
    person_at: str = ""


Fetch = Callable[[str, str], Mapping[str, Any]]


def fetched(address: str, access: str = "") -> Mapping[str, Any]:
    """A JSON object from an address; no redirect is followed. access: a bearer token to show.

    Raises OutOfReach.
    """
    headers = {"Authorization": f"Bearer {access}"} if access else {}
    try:
        with httpx.Client(timeout=PATIENCE_S, trust_env=False, headers=headers) as client:
            return json_of(client.get(address))
    except httpx.HTTPError as error:
        raise OutOfReach(f"{address} does not answer ({type(error).__name__})") from error


def json_of(answer: httpx.Response) -> Mapping[str, Any]:
    """The answer's JSON object. Raises OutOfReach for an error or another kind of answer."""
    if answer.status_code >= BAD_ANSWER or answer.is_redirect:
        raise OutOfReach(f"{answer.url} answered with {answer.status_code}")
    try:
        read = answer.json() if len(answer.content) <= MOST_BYTES else None
    except ValueError:
        read = None
    if not isinstance(read, dict):
        raise OutOfReach(f"{answer.url} did not answer with a JSON object")
    return read


def described(house: House, fetch: Fetch = fetched) -> Provider:
    """The provider as it describes itself (OpenID Connect Discovery 1.0 section 4.3).

    Raises OutOfReach when the description is another's, lacks an address, or names one that
    secrets must not travel to.
    """
    document = fetch(f"{house.issuer.rstrip('/')}{DESCRIBED_AT}", "")
    if document.get("issuer") != house.issuer:
        raise OutOfReach(f"it calls itself {document.get('issuer')!r}, not {house.issuer!r}")
    named = "userinfo_endpoint" in document
    try:
        return Provider(
            _address(document, "authorization_endpoint"),
            _address(document, "token_endpoint"),
            _address(document, "jwks_uri"),
            _address(document, "userinfo_endpoint") if named else "",
        )
    except HouseError as error:
        raise OutOfReach(str(error)) from error


def _address(document: Mapping[str, Any], name: str) -> str:
    text = document.get(name)
    if not isinstance(text, str):
        raise HouseError(name, str(text), "an address in the provider's description")
    # An endpoint may have a query of its own; what stands before it is what is checked.
    sound_address(name, text.partition("?")[0])
    return text


@dataclass(slots=True)
class Desk:
    """What one process keeps of the provider, for an hour. now_s: seconds of a clock, as given."""

    house: House
    fetch: Fetch = fetched
    _provider: tuple[float, Provider] | None = None
    _keys: tuple[float, Mapping[str, Any]] | None = None
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def provider(self, now_s: float) -> Provider:
        """Where to ask for what. Raises OutOfReach."""
        with self._lock:
            if self._provider is None or now_s - self._provider[0] > KEPT_S:
                self._provider = now_s, described(self.house, self.fetch)
            return self._provider[1]

    def keys(self, now_s: float, *, newer: bool = False) -> Mapping[str, Any]:
        """The provider's JWK set. newer: the kept one knew no key that fits. Raises OutOfReach."""
        address = self.provider(now_s).keys_at
        with self._lock:
            kept_s = KEYS_AGAIN_S if newer else KEPT_S
            if self._keys is None or now_s - self._keys[0] > kept_s:
                self._keys = now_s, self.fetch(address, "")
            return self._keys[1]
