"""Finding what a request needs; tests/contract/test_gate.py holds table and routes together."""

import pytest

from app.security.acts import Act, Scope
from app.security.gate import Gate, Open

GATE = Gate(
    {
        ("GET", "/things"): Act.READ_CATALOGUE,
        ("POST", "/things"): Act.DRAFT,
        ("GET", "/things/all"): Open.ALL,
        ("GET", "/things/{thing_id}"): Act.SEE_PATIENTS,
        ("POST", "/things/{thing_id}/parts/{number}"): Act.TELL,
        ("POST", "/api/things.v1"): Scope.RULES,
    }
)


@pytest.mark.parametrize(
    ("method", "path", "need"),
    [
        ("GET", "/things", Act.READ_CATALOGUE),
        ("HEAD", "/things", Act.READ_CATALOGUE),
        ("POST", "/things", Act.DRAFT),
        ("GET", "/things/all", Open.ALL),
        ("GET", "/things/al", Act.SEE_PATIENTS),
        ("GET", "/things/all%20", Act.SEE_PATIENTS),
        ("POST", "/things/x/parts/7", Act.TELL),
        ("POST", "/api/things.v1", Scope.RULES),
    ],
)
def test_each_address_is_found_with_its_need(method: str, path: str, need: object) -> None:
    assert GATE.find(method, path).need is need


@pytest.mark.parametrize(
    "path",
    [
        "/",
        "",
        "/thing",
        "/things/",
        "/things/x/y",
        "/things/x/parts/",
        "/things/x/parts/seven",
        "/things/x/parts/-7",
        "/things/x/parts/²",
        "/things/x/parts/7.0",
        "/things/x/parts/1234567890",
        "/api/thingsXv1",
        "//things",
    ],
)
def test_what_the_table_does_not_name_is_not_found(path: str) -> None:
    found = GATE.find("GET", path)
    assert found.template == ""
    assert found.need is None


def test_another_method_is_told_which_are_answered() -> None:
    found = GATE.find("DELETE", "/things")
    assert found.template == "/things"
    assert found.need is None
    assert set(found.methods) == {"GET", "POST"}
