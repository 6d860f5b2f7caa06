from fastapi import FastAPI
from fastapi.testclient import TestClient

from app.catalogue.changes.change import LimitValue
from app.review.knowledge import shipped
from tests.changing import LIMIT, RULE, in_force
from tests.unit.review.changes.conftest import NOW


def test_every_page_is_made_with_what_is_in_force_when_it_is_asked_for(
    own_app: FastAPI, ward: TestClient
) -> None:
    assert own_app.state.knowledge.version == shipped().version
    in_force(own_app.state.engine, LimitValue(RULE, LIMIT, 6.2), NOW)
    html = ward.get("/about").text
    version = own_app.state.knowledge.ruleset.version
    assert version != shipped().ruleset.version
    assert version in html
    assert version in ward.get("/rules").text
