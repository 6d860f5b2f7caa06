"""The outside interface under requests made from its own description, right ones and wrong ones.

Made by schemathesis over the OpenAPI document: whatever is sent, the answer is in our own words and
never a fault of the server; what the document says of answers is true.
"""

from collections.abc import Iterator
from typing import Any

import pytest
import schemathesis
from fastapi import FastAPI
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from schemathesis import Case, GenerationMode
from schemathesis.checks import not_a_server_error
from schemathesis.specs.openapi.checks import (
    content_type_conformance,
    response_schema_conformance,
    status_code_conformance,
)

from app.security.acts import Scope
from app.security.gate import ADMITS

TRIES = 60
CLIENT = {"Authorization": "Bearer demo"}
CHECKS = [
    not_a_server_error, content_type_conformance, response_schema_conformance,
    status_code_conformance,
]  # fmt: skip


FEW = settings(
    max_examples=TRIES,
    deadline=None,
    suppress_health_check=list(HealthCheck),
    derandomize=True,
    database=None,
)
OPERATIONS = [(path, method) for (method, path), need in ADMITS.items() if isinstance(need, Scope)]
OPERATIONS += [("/healthz", "GET"), ("/readyz", "GET")]


@pytest.fixture(scope="session")
def described(app: FastAPI) -> schemathesis.BaseSchema:
    """The interface as it describes itself."""
    return schemathesis.openapi.from_asgi("/openapi.json", app)


@pytest.mark.parametrize(("path", "method"), OPERATIONS)
def test_what_is_asked_as_described_is_answered_as_described(
    described: schemathesis.BaseSchema, path: str, method: str
) -> None:
    @FEW
    @given(case=described[path][method].as_strategy(generation_mode=GenerationMode.POSITIVE))
    def sent(case: Case) -> None:
        case.call_and_validate(headers=CLIENT, checks=CHECKS)

    sent()


ODD: st.SearchStrategy[object] = st.one_of(
    st.none(),
    st.booleans(),
    st.sampled_from([-1, 0, 1e308, -1e308, 10**40, "", " ", "NaN", "' OR 1=1 --", "../../etc"]),
    st.text(max_size=20),
    st.lists(st.integers(), max_size=3),
    st.dictionaries(st.text(max_size=5), st.none(), max_size=2),
)


@pytest.mark.parametrize("path", [path for path, method in OPERATIONS if method == "POST"])
def test_what_is_asked_otherwise_is_refused_by_field_or_answered(
    described: schemathesis.BaseSchema, path: str
) -> None:
    """A request as described, with up to three of its values put in place by something odd."""
    operation = described[path]["POST"]

    @FEW
    @given(
        case=operation.as_strategy(generation_mode=GenerationMode.POSITIVE),
        changes=st.lists(st.tuples(st.integers(0, 10_000), ODD), min_size=1, max_size=3),
    )
    def sent(case: Case, changes: list[tuple[int, object]]) -> None:
        for place, odd in changes:
            case.body = put_in(case.body, place, odd)
        response = case.call(headers=CLIENT)
        case.validate_response(response, checks=CHECKS)
        if response.status_code == 422:
            assert all(error["accepted"] for error in response.json()["errors"])

    sent()


def put_in(body: object, place: int, odd: object) -> object:
    """The body with one of its values, counted from the outside in, put in place by another."""
    places = list(places_of(body))
    if not places:
        return odd
    holder, key = places[place % len(places)]
    holder[key] = odd
    return body


def places_of(value: object) -> Iterator[tuple[Any, Any]]:
    """Where a value may be put: every key of every object and every place of every list."""
    keys = (
        value.keys()
        if isinstance(value, dict)
        else range(len(value))
        if isinstance(value, list)
        else ()
    )
    for key in list(keys):
        yield value, key
        yield from places_of(value[key])  # type: ignore[index]
