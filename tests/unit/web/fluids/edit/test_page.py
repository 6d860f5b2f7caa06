"""A fluid's entry is written, checked and drafted; nothing typed is lost."""

from fastapi.testclient import TestClient


def test_the_form_opens(client: TestClient) -> None:
    html = client.get("/catalogue/lactated-ringers/edit").text
    assert 'value="1.35"' in html
    for path in (
        "/catalogue/new",
        "/catalogue/lactated-ringers/label",
        "/catalogue/lactated-ringers/history",
    ):
        answer = client.get(path)
        assert answer.status_code == 200, (path, answer.text[-2000:])
