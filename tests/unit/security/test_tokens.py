import pytest

from app.security.tokens import token_is_known


def test_a_known_token_is_let_in_whatever_the_case_of_the_scheme() -> None:
    assert token_is_known("Bearer first", ["first", "second"])
    assert token_is_known("bearer second", ["first", "second"])


@pytest.mark.parametrize("header", [None, "", "first", "Basic first", "Bearer", "Bearer firs"])
def test_anything_else_is_not(header: str | None) -> None:
    assert not token_is_known(header, ["first"])


def test_no_token_at_all_lets_nobody_in() -> None:
    assert not token_is_known("Bearer ", [])
