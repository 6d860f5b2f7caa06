"""What a hospital tells of its sign-in."""

import pytest

from app.security.acts import Role
from app.security.oidc.house import House, HouseError, roles_of_groups, sound_address


def test_groups_have_roles_and_a_person_may_have_several() -> None:
    roles = roles_of_groups("R", "ward-7=nurse; CN=Pharmacy,OU=Staff=pharmacist;;")
    house = House("https://h.example", "c", "https://r.example", roles)
    assert house.roles_of(["ward-7", "CN=Pharmacy,OU=Staff", "choir"]) == {
        Role.NURSE,
        Role.PHARMACIST,
    }
    assert house.roles_of(["choir"]) == frozenset()


@pytest.mark.parametrize("text", ["", "ward-7", "=nurse", "ward-7=matron", "a=nurse;a=pharmacist"])
def test_a_pair_that_says_no_role_of_ours_is_refused(text: str) -> None:
    with pytest.raises(HouseError, match="administrator"):
        roles_of_groups("RINGSIDE_OIDC_ROLES", text)


@pytest.mark.parametrize(
    "text",
    ["http://house.example", "house.example", "", "https://a@b.example", "https://h.example?x=1"],
)
def test_an_address_that_secrets_must_not_travel_to_is_refused(text: str) -> None:
    with pytest.raises(HouseError, match="https"):
        sound_address("RINGSIDE_OIDC_ISSUER", text)


def test_an_address_is_kept_to_the_letter() -> None:
    for text in ("https://house.example/realm/", "http://127.0.0.1:81", "http://[::1]:81/x"):
        assert sound_address("RINGSIDE_OIDC_ISSUER", text) == text


def test_the_secret_stays_out_of_what_is_printed() -> None:
    house = House("https://h.example", "c", "https://r.example", {}, secret="hidden-one")
    assert "hidden-one" not in repr(house)
