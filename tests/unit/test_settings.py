"""Settings come from the environment once, and say what is wrong by name."""

from dataclasses import FrozenInstanceError

import pytest

from app.settings import SettingError, Settings, read_settings


def test_with_nothing_set_the_server_is_on_loopback_with_its_own_database() -> None:
    settings = read_settings({})
    assert (settings.host, settings.port, settings.demo) == ("127.0.0.1", 8000, False)
    assert settings.database_url.startswith("sqlite:///")
    assert settings.database_url.endswith("var/ringside.db")
    assert settings.api_tokens == frozenset()


def test_tokens_are_split_at_commas_and_blanks_are_no_token() -> None:
    settings = read_settings({"RINGSIDE_API_TOKENS": "alpha-ward, beta-ward,,"})
    assert settings.api_tokens == {"alpha-ward", "beta-ward"}


def test_the_token_demo_works_in_demo_mode_only() -> None:
    assert "demo" in read_settings({"RINGSIDE_DEMO": "1"}).api_tokens
    assert "demo" not in read_settings({"RINGSIDE_DEMO": "0"}).api_tokens


def test_without_a_secret_each_start_gets_its_own() -> None:
    assert read_settings({}).secret != read_settings({}).secret


def test_a_secret_given_is_kept() -> None:
    assert read_settings({"RINGSIDE_SECRET": "a" * 16}).secret == "a" * 16


@pytest.mark.parametrize(
    ("variable", "value", "accepted"),
    [
        ("RINGSIDE_DEMO", "perhaps", "1 or 0"),
        ("RINGSIDE_DATABASE_URL", "mysql://u:hidden@h/db", "sqlite:///"),
        ("RINGSIDE_SECRET", "short", "at least 16 characters"),
        ("PORT", "80o0", "whole number"),
        ("PORT", "70000", "65535"),
        ("HOST", "192.0.2.7", "127.0.0.1"),
    ],
)
def test_a_wrong_setting_is_told_by_name_with_what_is_accepted(
    variable: str, value: str, accepted: str
) -> None:
    with pytest.raises(SettingError) as told:
        read_settings({variable: value})
    assert told.value.variable == variable
    assert accepted in str(told.value)


def test_a_secret_or_password_is_never_in_the_message() -> None:
    for variable, value in (("RINGSIDE_SECRET", "hidden"), ("RINGSIDE_DATABASE_URL", "x:hidden")):
        with pytest.raises(SettingError) as told:
            read_settings({variable: value})
        assert "hidden" not in str(told.value)


def test_a_secret_is_never_in_the_printed_settings() -> None:
    settings = read_settings(
        {"RINGSIDE_SECRET": "hidden-hidden-hidden", "RINGSIDE_API_TOKENS": "hidden"}
    )
    assert "hidden" not in repr(settings)


def test_an_open_address_needs_demo_mode_while_there_are_no_accounts() -> None:
    assert read_settings({"HOST": "0.0.0.0", "RINGSIDE_DEMO": "1"}).host == "0.0.0.0"


def test_settings_are_frozen() -> None:
    with pytest.raises(FrozenInstanceError):
        Settings().port = 1  # type: ignore[misc]


def test_only_a_secret_that_is_set_seals_the_trail() -> None:
    assert read_settings({}).trail_secret == ""
    assert read_settings({"RINGSIDE_SECRET": "a" * 16}).trail_secret == "a" * 16
    assert "a" * 16 not in repr(read_settings({"RINGSIDE_SECRET": "a" * 16}))
