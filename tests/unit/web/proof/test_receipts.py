"""A finding's receipt comes as a file from the page that shows the finding."""

import json
import re
from html import unescape
from typing import Any

import pytest
from fastapi.testclient import TestClient

from app.review.knowledge import Knowledge
from app.review.receipts.reading import kept
from app.review.receipts.recompute import recomputed

BED = "/patients/bed-04"
LINK = re.compile(r'href="(/patients/bed-04/receipts/[^"]+)"')
ORDER = {
    "fluid": "0.9% sodium chloride",
    "volume": "1000",
    "rate": "125",
    "additive": "potassium chloride",
    "amount": "40",
    "unit": "mmol",
    "age": "61",
    "weight": "70",
    "result_potassium": "6.1",
    "results_age": "2",
}


def links(client: TestClient) -> list[str]:
    return [unescape(found) for found in LINK.findall(client.get(BED).text)]


def hidden(html: str, name: str) -> str:
    found = re.search(rf'name="{name}" value="([^"]*)"', html)
    assert found
    return unescape(found[1])


def sent(client: TestClient, **order: str) -> tuple[dict[str, str], list[str]]:
    """What the order page's receipt buttons send, without the button's own number."""
    html = client.post("/orders/review", data=order).text
    numbers = re.findall(r'form="receipts" name="number" value="(\d+)"', html)
    return {"typed": hidden(html, "typed"), "at": hidden(html, "at")}, numbers


def test_every_finding_of_a_patient_links_to_its_own_receipt(client: TestClient) -> None:
    found = links(client)
    assert len(found) > 1
    for link in found:
        answer = client.get(link)
        assert answer.headers["content-type"] == "application/json"
        assert answer.headers["cache-control"] == "no-store"
        receipt = answer.json()
        assert answer.headers["content-disposition"].startswith("attachment; filename=")
        assert link.endswith(f"rule={receipt['rule_id']}")
        assert f"/receipts/{receipt['number']}?" in link


def test_it_names_the_patient_by_bed_and_initials_alone(client: TestClient) -> None:
    receipt = client.get(links(client)[0]).json()
    assert set(receipt["about"]) == {"bed", "initials"}
    assert receipt["about"]["bed"] == "04"


def test_a_downloaded_receipt_is_made_again_the_same(client: TestClient) -> None:
    knowledge: Knowledge = client.app.state.knowledge  # type: ignore[attr-defined]
    for link in links(client):
        (verdict,) = recomputed([kept(client.get(link).json(), "r")], knowledge, whole=False)
        assert verdict.state == "same", verdict.text


@pytest.mark.parametrize(
    "path",
    ["/patients/nobody/receipts/1", f"{BED}/receipts/999", f"{BED}/receipts/0",
     f"{BED}/receipts/1?rule=nonsuch", f"{BED}/receipts/1?at=yesterday",
     f"{BED}/receipts/1?at=0001-01-01T00:00:00%2B14:00", f"{BED}/receipts/1?at=2031-03-04"],
)  # fmt: skip
def test_a_receipt_of_what_is_not_there_is_refused(client: TestClient, path: str) -> None:
    assert client.get(path).status_code == 404


def test_an_order_being_written_has_receipts_too(client: TestClient) -> None:
    fields, numbers = sent(client, **ORDER)
    assert numbers
    answer = client.post("/orders/receipts", data={**fields, "number": numbers[0]})
    receipt: dict[str, Any] = answer.json()
    assert receipt["rule_id"] == "k-hyper"
    assert receipt["about"] == {}
    assert receipt["request"]["orders"][0]["fluid"] == "0.9% sodium chloride"
    assert receipt["request"]["patient"]["observations"][0]["value"] == "6.1"
    assert "attachment" in answer.headers["content-disposition"]


def test_an_order_for_a_patient_of_the_unit_names_the_bed(client: TestClient) -> None:
    order = {name: ORDER[name] for name in ("fluid", "volume", "rate", "additive", "amount")}
    fields, numbers = sent(client, patient="bed-04", unit="mmol", **order)
    receipt = client.post("/orders/receipts", data={**fields, "number": numbers[0]}).json()
    assert receipt["about"]["bed"] == "04"
    assert json.dumps(receipt["request"]["orders"]).count('"new"') == 1


@pytest.mark.parametrize(
    "changed",
    [{"number": "99"}, {"typed": "patient=nobody&fluid=water"}, {"typed": "fluid=x&rate=12o"},
     {"typed": ""}, {"at": "long ago"}],
)  # fmt: skip
def test_what_was_not_found_of_an_order_has_no_receipt(
    client: TestClient, changed: dict[str, str]
) -> None:
    fields, _ = sent(client, **ORDER)
    answer = client.post("/orders/receipts", data={**fields, "number": "1", **changed})
    assert answer.status_code in (404, 422)


def test_a_request_without_a_number_is_refused(client: TestClient) -> None:
    assert client.post("/orders/receipts", data={"typed": "fluid=water"}).status_code == 422
