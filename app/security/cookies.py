"""The browser's key: a cookie no script reads, bound to this host and to https."""

from typing import Final

from starlette.requests import HTTPConnection
from starlette.responses import Response

from app.settings import Settings

PLAIN_NAME: Final = "ringside"
HOST_NAME: Final = "__Host-ringside"
LONGEST_KEY: Final = 128


def is_safe(connection: HTTPConnection, settings: Settings) -> bool:
    """True unless it comes over plain http, which only loopback and the demo unit may."""
    return settings.https or connection.url.scheme == "https"


def cookie_name(*, safe: bool) -> str:
    """A browser takes the first only over https, and only from this very host."""
    return HOST_NAME if safe else PLAIN_NAME


def key_of(connection: HTTPConnection, settings: Settings) -> str:
    """The key a browser sent; empty when it sent none."""
    key = connection.cookies.get(cookie_name(safe=is_safe(connection, settings)), "")
    return key if len(key) <= LONGEST_KEY else ""


def give_key(
    answer: Response, connection: HTTPConnection, settings: Settings, key: str
) -> Response:
    """Have the browser keep a key until it is closed."""
    safe = is_safe(connection, settings)
    answer.set_cookie(
        cookie_name(safe=safe), key, path="/", secure=safe, httponly=True, samesite="lax"
    )
    return answer


def take_key(answer: Response, connection: HTTPConnection, settings: Settings) -> Response:
    """Have the browser forget its key."""
    safe = is_safe(connection, settings)
    answer.delete_cookie(
        cookie_name(safe=safe), path="/", secure=safe, httponly=True, samesite="lax"
    )
    return answer
