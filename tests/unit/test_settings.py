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
        ("RINGSIDE_OPEN_READING", "some", "1 or 0"),
        ("RINGSIDE_IDLE_MINUTES", "soon", "minutes above 0, at most 240"),
        ("RINGSIDE_IDLE_MINUTES", "0", "above 0"),
        ("RINGSIDE_IDLE_MINUTES", "nan", "above 0"),
        ("RINGSIDE_SESSION_HOURS", "25", "hours above 0, at most 24"),
        ("RINGSIDE_HTTPS", "always", "1 or 0"),
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


def test_reading_is_open_in_the_demo_alone_unless_it_is_said() -> None:
    assert not read_settings({}).open_reading
    assert read_settings({"RINGSIDE_OPEN_READING": "1"}).open_reading
    assert read_settings({"RINGSIDE_DEMO": "1"}).open_reading
    assert not read_settings({"RINGSIDE_DEMO": "1", "RINGSIDE_OPEN_READING": "0"}).open_reading


def test_cookies_need_https_on_every_address_but_loopback_and_the_demo() -> None:
    assert not read_settings({}).https
    assert read_settings({"HOST": "0.0.0.0"}).https
    assert not read_settings({"HOST": "0.0.0.0", "RINGSIDE_DEMO": "1"}).https
    assert read_settings({"RINGSIDE_HTTPS": "1"}).https


def test_a_session_locks_and_ends_after_a_while_that_may_be_set() -> None:
    usual = read_settings({})
    assert (usual.idle_minutes, usual.session_hours) == (15, 12)
    set_ = read_settings({"RINGSIDE_IDLE_MINUTES": "2.5", "RINGSIDE_SESSION_HOURS": "8"})
    assert (set_.idle_minutes, set_.session_hours) == (2.5, 8)


def test_settings_are_frozen() -> None:
    with pytest.raises(FrozenInstanceError):
        Settings().port = 1  # type: ignore[misc]


def test_only_a_secret_that_is_set_seals_the_trail() -> None:
    assert read_settings({}).trail_secret == ""
    assert read_settings({"RINGSIDE_SECRET": "a" * 16}).trail_secret == "a" * 16
    assert "a" * 16 not in repr(read_settings({"RINGSIDE_SECRET": "a" * 16}))


def test_how_long_patients_are_kept_has_no_default_and_is_no_less_than_a_week() -> None:
    assert read_settings({}).keep_days is None
    assert read_settings({"RINGSIDE_KEEP_DAYS": "30"}).keep_days == 30
    for text in ("6", "0", "-30", "3.5", "99999", "²", "a month"):
        with pytest.raises(SettingError, match="RINGSIDE_KEEP_DAYS"):
            read_settings({"RINGSIDE_KEEP_DAYS": text})


def test_the_cap_on_burden_and_where_replays_run_may_be_set() -> None:
    usual = read_settings({})
    assert (usual.burden_cap, usual.dask_address) == (5, "")
    set_ = read_settings({"RINGSIDE_BURDEN_CAP": "0", "RINGSIDE_DASK_ADDRESS": " tcp://s:8786 "})
    assert (set_.burden_cap, set_.dask_address) == (0, "tcp://s:8786")
    for text in ("-1", "many", "nan", "1e9"):
        with pytest.raises(SettingError, match="RINGSIDE_BURDEN_CAP"):
            read_settings({"RINGSIDE_BURDEN_CAP": text})
