"""What every answer carries, and what is refused at the door."""

from collections.abc import Iterator

import pytest
from fastapi import FastAPI, Request
from fastapi.responses import PlainTextResponse, Response
from fastapi.testclient import TestClient
from starlette.middleware import Middleware

from app.security.headers import Guard
from app.settings import Settings

LIMIT = 100


def plainly(_request: Request, status: int, text: str) -> Response:
    return PlainTextResponse(text, status)


async def length(request: Request) -> int:
    return len(await request.body())


@pytest.fixture
def client() -> Iterator[TestClient]:
    app = FastAPI(middleware=[Middleware(Guard, refuse=plainly, body_limit_bytes=LIMIT)])
    app.add_api_route("/thing", length, methods=["GET", "POST"])
    with TestClient(app) as client:
        yield client


def test_no_script_or_style_runs_but_our_own_files(client: TestClient) -> None:
    policy = client.get("/thing").headers["content-security-policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert "frame-ancestors 'none'" in policy


def test_the_kind_of_a_file_is_never_guessed(client: TestClient) -> None:
    assert client.get("/thing").headers["x-content-type-options"] == "nosniff"


def test_another_site_cannot_change_anything_here(client: TestClient) -> None:
    answer = client.post("/thing", headers={"Sec-Fetch-Site": "cross-site"})
    assert answer.status_code == 403
    assert "another site" in answer.text
    assert "content-security-policy" in answer.headers


def test_another_site_may_link_to_a_page(client: TestClient) -> None:
    assert client.get("/thing", headers={"Sec-Fetch-Site": "cross-site"}).status_code == 200


@pytest.mark.parametrize(
    ("origin", "status"),
    [("http://testserver", 200), ("http://elsewhere.example", 403), ("null", 403)],
)
def test_an_older_browser_is_judged_by_its_origin(
    client: TestClient, origin: str, status: int
) -> None:
    assert client.post("/thing", headers={"Origin": origin}).status_code == status


def test_our_own_page_and_a_program_may_send(client: TestClient) -> None:
    assert client.post("/thing", headers={"Sec-Fetch-Site": "same-origin"}).status_code == 200
    assert client.post("/thing").status_code == 200


def test_a_body_at_the_limit_is_read_and_one_byte_more_is_not(client: TestClient) -> None:
    assert client.post("/thing", content=b"x" * LIMIT).json() == LIMIT
    assert client.post("/thing", content=b"x" * (LIMIT + 1)).status_code == 413


def test_a_body_that_hides_its_length_is_stopped_as_it_grows(client: TestClient) -> None:
    chunks = (b"x" * 60 for _ in range(3))
    answer = client.post("/thing", content=chunks)
    assert answer.status_code == 413
    assert "sent at once" in answer.text


def test_where_browsers_come_by_https_they_are_told_to_come_no_other_way(
    client: TestClient,
) -> None:
    name = "strict-transport-security"
    assert name not in client.get("/thing").headers
    assert client.get("https://testserver/thing").headers[name] == "max-age=31536000"
    client.app.state.settings = Settings(https=True)  # type: ignore[attr-defined]
    assert name in client.get("/thing").headers
