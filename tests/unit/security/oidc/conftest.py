"""The house's sign-in, and a browser that goes there and back."""

import time
from collections.abc import Callable, Iterator
from urllib.parse import parse_qsl, urlsplit

import httpx
import pytest

from app.security.acts import Role
from app.security.oidc.flow import Begun
from app.security.oidc.house import House
from app.security.oidc.provider import Desk
from tests.provider import CLIENT, SECRET, Lies, Provider, Somebody, running

GoThere = Callable[[Begun, str], dict[str, str]]


@pytest.fixture(scope="session")
def _running() -> Iterator[Provider]:
    with running(Provider()) as provider:
        yield provider


@pytest.fixture
def provider(_running: Provider) -> Provider:
    """A provider that tells the truth of two people."""
    _running.lies = Lies()
    _running.seconds = 3600  # some tests look ahead a quarter of an hour
    _running.people = {
        "mira": Somebody("s-1", "Mira Tal", ["ward-nurses", "choir"]),
        "odd": Somebody("s-2", "Odd Berg", ["pharmacy"]),
    }
    return _running


@pytest.fixture
def house(provider: Provider) -> House:
    """What a hospital would tell us of it."""
    roles = {"ward-nurses": Role.NURSE, "pharmacy": Role.PHARMACIST}
    return House(provider.address, CLIENT, "http://127.0.0.1:9", roles, SECRET)


@pytest.fixture
def desk(house: House) -> Desk:
    """A fresh process."""
    return Desk(house)


@pytest.fixture
def go_there() -> GoThere:
    """Sign in at the provider by a name; returns the query the browser comes back with."""

    def there(begun: Begun, who: str) -> dict[str, str]:
        asked = dict(parse_qsl(urlsplit(begun.address).query))
        at = begun.address.partition("?")[0]
        answer = httpx.post(at, data={**asked, "who": who}, trust_env=False)
        return dict(parse_qsl(urlsplit(answer.headers["location"]).query))

    return there


@pytest.fixture
def now_s() -> int:
    """The provider's clock is this machine's."""
    return int(time.time())
