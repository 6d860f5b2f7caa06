"""What a browser carries to the house's sign-in and back."""

from datetime import UTC, datetime, timedelta

from app.security.oidc.flow import Begun
from app.security.oidc.setting_out import SetOut, grant_of, sealed_grant, sealed_way, way_of

NOW = datetime(2026, 3, 4, 7, tzinfo=UTC)
WAY = SetOut(Begun("", "state", "nonce", "verifier"), "/patients/bed-09")
SECRET = "a secret of this server"


def test_the_way_comes_back_as_it_went_out() -> None:
    assert way_of(sealed_way(WAY, SECRET, NOW), SECRET, NOW + timedelta(minutes=9)) == WAY


def test_nobody_reads_or_makes_up_a_way() -> None:
    sealed = sealed_way(WAY, SECRET, NOW)
    assert "verifier" not in sealed
    assert way_of(sealed, "another secret", NOW) is None
    assert way_of(sealed[:-2] + "AA", SECRET, NOW) is None
    assert way_of("", SECRET, NOW) is None


def test_a_way_is_good_for_ten_minutes() -> None:
    assert way_of(sealed_way(WAY, SECRET, NOW), SECRET, NOW + timedelta(minutes=11)) is None


def test_a_grant_is_read_by_the_server_that_sealed_it() -> None:
    sealed = sealed_grant("refresh", SECRET)
    assert "refresh" not in sealed
    assert grant_of(sealed, SECRET) == "refresh"
    assert grant_of(sealed, "another") == ""
    assert grant_of("", SECRET) == ""


def test_a_way_is_no_grant() -> None:
    assert grant_of(sealed_way(WAY, SECRET, NOW), SECRET) == ""
