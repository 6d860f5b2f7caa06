"""The browser's key travels in a cookie that no script and no other host gets."""

import pytest
from starlette.requests import Request
from starlette.responses import Response

from app.security.cookies import cookie_name, give_key, key_of, take_key
from app.settings import Settings


def request_over(scheme: str, cookie: str = "") -> Request:
    headers = [(b"host", b"ringside.example")]
    headers += [(b"cookie", cookie.encode())] * bool(cookie)
    return Request(
        {
            "type": "http", "method": "GET", "path": "/", "query_string": b"", "scheme": scheme,
            "server": ("127.0.0.1", 80), "headers": headers,
        }
    )  # fmt: skip


@pytest.mark.parametrize(("scheme", "https"), [("https", False), ("http", True), ("https", True)])
def test_over_https_the_cookie_is_bound_to_host_and_https(scheme: str, https: bool) -> None:
    settings = Settings(https=https)
    cookie = give_key(Response(), request_over(scheme), settings, "k").headers["set-cookie"]
    assert cookie.startswith("__Host-ringside=k;")
    for part in ("HttpOnly", "SameSite=lax", "Secure", "Path=/"):
        assert part in cookie
    assert "Domain" not in cookie
    assert "Max-Age" not in cookie


def test_over_plain_http_it_has_the_plain_name_and_the_rest() -> None:
    cookie = give_key(Response(), request_over("http"), Settings(), "k").headers["set-cookie"]
    assert cookie.startswith("ringside=k;")
    assert "HttpOnly" in cookie
    assert "SameSite=lax" in cookie
    assert "Secure" not in cookie


def test_a_key_is_read_under_the_name_of_its_connection_alone() -> None:
    both = "ringside=plain; __Host-ringside=bound"
    assert key_of(request_over("http", both), Settings()) == "plain"
    assert key_of(request_over("https", both), Settings()) == "bound"
    assert key_of(request_over("https", "ringside=plain"), Settings()) == ""
    assert key_of(request_over("http", f"ringside={'x' * 500}"), Settings()) == ""


def test_a_key_taken_away_is_forgotten_under_its_own_name() -> None:
    cookie = take_key(Response(), request_over("https"), Settings()).headers["set-cookie"]
    assert cookie.startswith(f'{cookie_name(safe=True)}="";')
    assert "Max-Age=0" in cookie
