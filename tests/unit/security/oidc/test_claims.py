"""A person as the claims describe them."""

import pytest

from app.security.oidc.claims import NotBelieved, told_of
from app.security.oidc.house import House


def house(claim: str = "groups") -> House:
    return House("https://h.example", "c", "https://r.example", {}, groups_claim=claim)


def test_the_fullest_name_is_taken() -> None:
    assert told_of({"sub": "1", "name": "Mira Tal", "email": "m@h"}, house()).name == "Mira Tal"
    assert told_of({"sub": "1", "email": "m@h"}, house()).name == "m@h"
    assert told_of({"sub": "1", "name": " ", "preferred_username": 7}, house()).name == "1"


@pytest.mark.parametrize("sub", [None, "", 7, ["a"]])
def test_claims_that_name_nobody_are_not_believed(sub: object) -> None:
    with pytest.raises(NotBelieved):
        told_of({"sub": sub}, house())


def test_groups_may_stand_within_another_claim_or_be_one_word() -> None:
    claims = {"sub": "1", "realm_access": {"roles": ["a", 7, "b"]}, "groups": "alone"}
    assert told_of(claims, house("realm_access.roles")).groups == ("a", "b")
    assert told_of(claims, house()).groups == ("alone",)
    assert told_of(claims, house("groups.roles")).groups == ()
    assert told_of({"sub": "1", "groups": {"a": 1}}, house()).groups == ()
