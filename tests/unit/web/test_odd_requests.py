"""What a broken link, or somebody who means ill, sends to every page: answered in our words."""

import re
from urllib.parse import quote

import pytest
from fastapi.testclient import TestClient

from app.security.acts import Role, Scope
from app.security.gate import ADMITS
from tests.unit.conftest import ClientAs

MARK = "zq9"
ODD = {
    "markup": f"<script>{MARK}</script>",
    "a broken attribute": f'"><img src=x onerror={MARK}>',
    "SQL": f"' OR 1=1; DROP TABLE patient; -- {MARK}",
    "a way out of the folder": f"../../../../etc/passwd{MARK}",
    "the same, written otherwise": f"..%2f..%2fetc%2fpasswd{MARK}",
    "a template": f"{{{{ 7 * 7 }}}}{MARK}",
    "a null byte": f"a\x00{MARK}",
    "a line's end": f"a\r\nSet-Cookie: {MARK}=1",
    "another alphabet turned round": f"\u202e{MARK}\ufeff\ud7ff",
    "a very long word": "9" * 1000 + MARK,
    "nothing but blanks": "   ",
    "a number past all numbers": "1e999",
    "not a number": "NaN",
}
NAMES = (
    "patient", "fluid", "fluid_b", "q", "a", "b", "back", "volume", "minutes", "weight", "rule",
    "who", "act", "subject", "from", "to", "before", "after", "page", "state", "lost", "share",
    "at", "seen", "row", "level", "setting", "look", "code", "iss",
)  # fmt: skip
PAGES = [(m, p) for (m, p), need in ADMITS.items() if not isinstance(need, Scope)]
READ = [path for method, path in PAGES if method == "GET"]
WRITTEN = [path for method, path in PAGES if method == "POST"]
EVERYBODY = tuple(Role)
LEAVES = re.compile(r"/sign-out|/account/(lock|sign-out-everywhere|password)")


@pytest.fixture
def client(client_as: ClientAs) -> TestClient:
    """Somebody who may do everything: nothing is refused for want of a role."""
    return client_as(*EVERYBODY, raise_server_exceptions=True, follow_redirects=False)


def filled(path: str, odd: str) -> str:
    """The address with something odd in each place that is filled in."""
    return re.sub(r"\{\w+\}", lambda _: quote(odd, safe="") or "%20", path)


def sound(status: int, text: str, headers: str, odd: str) -> None:
    """Answered, and nothing of what was sent stands there as markup, or as a header."""
    assert status < 500
    if odd.startswith(("<", '"')):
        assert odd not in text
    assert "root:x:0" not in text
    assert f"49{MARK}" not in text
    assert f"set-cookie: {MARK}" not in headers


@pytest.mark.parametrize("path", READ)
def test_every_page_answers_what_is_odd(client: TestClient, path: str) -> None:
    for odd in ODD.values():
        asked = {name: odd for name in NAMES if name != "patient"}
        for params in (asked, {"patient": odd}) if "{" not in path else ({}, asked):
            answer = client.get(filled(path, odd), params=params)
            sound(answer.status_code, answer.text, str(answer.headers).lower(), odd)


@pytest.mark.parametrize("path", [path for path in WRITTEN if not LEAVES.match(path)])
def test_every_form_answers_what_is_odd(client: TestClient, path: str) -> None:
    for odd in ODD.values():
        for address in {filled(path, odd), filled(path, "1")}:
            form = dict.fromkeys((*NAMES, "reason", "by"), odd)
            answer = client.post(address, data=form)
            sound(answer.status_code, answer.text, str(answer.headers).lower(), odd)


@pytest.mark.parametrize("path", [path for path in WRITTEN if not LEAVES.match(path)])
def test_every_form_answers_what_is_no_form(client: TestClient, path: str) -> None:
    address = filled(path, "1")
    bodies = (
        (b"", "application/x-www-form-urlencoded"),
        (b"\xff\xfe%zz&&==&=", "application/x-www-form-urlencoded"),
        (b"--x\r\nContent-Disposition: nothing\r\n", "multipart/form-data; boundary=x"),
        (b"{}", "application/json"),
        (b"no boundary", "multipart/form-data"),
    )
    for body, kind in bodies:
        answer = client.post(address, content=body, headers={"Content-Type": kind})
        assert answer.status_code < 500


def test_the_one_who_asks_may_do_everything(client: TestClient) -> None:
    assert client.get("/").status_code == 200
    assert client.get("/accounts").status_code == 200
