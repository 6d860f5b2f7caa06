"""Settings, read once from the environment and frozen."""

import os
import secrets
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

ROOT: Final = Path(__file__).resolve().parents[1]
DEFAULT_DATABASE_URL: Final = f"sqlite:///{ROOT / 'var' / 'ringside.db'}"
DEFAULT_HOST: Final = "127.0.0.1"
DEFAULT_PORT: Final = 8000
HIGHEST_PORT: Final = 65535
SHORTEST_SECRET: Final = 16
DEMO_TOKEN: Final = "demo"
LOOPBACK: Final = frozenset({"127.0.0.1", "::1", "localhost"})
YES: Final = frozenset({"1", "yes", "true", "on"})
NO: Final = frozenset({"", "0", "no", "false", "off"})
DATABASES: Final = ("sqlite:///", "postgresql")
SETTINGS_HELP: Final = {
    "RINGSIDE_DATABASE_URL": "where the data is kept; default: SQLite under ./var/",
    "RINGSIDE_SECRET": "signs what a browser keeps; at least 16 characters",
    "RINGSIDE_DEMO": "1: the demo unit, and the machine token `demo`",
    "RINGSIDE_API_TOKENS": "bearer tokens of machine clients, separated by commas",
    "HOST": "address to listen on; default 127.0.0.1",
    "PORT": "port to listen on; default 8000",
}


@dataclass(frozen=True, slots=True)
class SettingError(Exception):
    """A setting that cannot be used: the variable, what it holds, what is accepted.

    The value of a secret is never part of the message.
    """

    variable: str
    value: str
    accepted: str

    def __str__(self) -> str:
        return f"{self.variable}: {self.value!r} is not accepted; accepted: {self.accepted}"


@dataclass(frozen=True, slots=True)
class Settings:
    """How this server runs. secret and api_tokens stay out of every printed form."""

    database_url: str = field(default=DEFAULT_DATABASE_URL, repr=False)
    secret: str = field(default="", repr=False)
    demo: bool = False
    api_tokens: frozenset[str] = field(default=frozenset(), repr=False)
    host: str = DEFAULT_HOST
    port: int = DEFAULT_PORT


def read_settings(environ: Mapping[str, str] | None = None) -> Settings:
    """The settings the environment asks for. Raises SettingError naming the variable."""
    given = os.environ if environ is None else environ
    demo = _yes_or_no(given, "RINGSIDE_DEMO")
    return Settings(
        database_url=_database_url(given),
        secret=_secret(given),
        demo=demo,
        api_tokens=_tokens(given, demo=demo),
        host=_host(given, demo=demo),
        port=_port(given),
    )


def _yes_or_no(given: Mapping[str, str], variable: str) -> bool:
    value = given.get(variable, "").strip().lower()
    if value not in YES | NO:
        raise SettingError(variable, value, "1 or 0")
    return value in YES


def _database_url(given: Mapping[str, str]) -> str:
    url = given.get("RINGSIDE_DATABASE_URL", "").strip() or DEFAULT_DATABASE_URL
    if not url.startswith(DATABASES):
        kind = url.partition(":")[0]  # the rest may hold a password
        accepted = "sqlite:///path/to/file.db or postgresql+driver://user@host/name"
        raise SettingError("RINGSIDE_DATABASE_URL", f"{kind}:…", accepted)
    return url


def _secret(given: Mapping[str, str]) -> str:
    """The secret that signs what browsers send back; a new one at each start when none is set."""
    secret = given.get("RINGSIDE_SECRET", "")
    if not secret:
        return secrets.token_urlsafe()
    if len(secret) < SHORTEST_SECRET:
        raise SettingError(
            "RINGSIDE_SECRET",
            f"{len(secret)} characters",
            f"at least {SHORTEST_SECRET} characters, or unset",
        )
    return secret


def _tokens(given: Mapping[str, str], *, demo: bool) -> frozenset[str]:
    words = given.get("RINGSIDE_API_TOKENS", "").split(",")
    tokens = {word.strip() for word in words if word.strip()}
    return frozenset(tokens | {DEMO_TOKEN}) if demo else frozenset(tokens)


def _host(given: Mapping[str, str], *, demo: bool) -> str:
    """Loopback only, unless all that can be seen is the invented demo unit."""
    host = given.get("HOST", "").strip() or DEFAULT_HOST
    if host not in LOOPBACK and not demo:
        accepted = f"{', '.join(sorted(LOOPBACK))}; any address with RINGSIDE_DEMO=1"
        raise SettingError("HOST", host, accepted)
    return host


def _port(given: Mapping[str, str]) -> int:
    text = given.get("PORT", "").strip() or str(DEFAULT_PORT)
    if not text.isascii() or not text.isdigit() or not 0 < int(text) <= HIGHEST_PORT:
        raise SettingError("PORT", text, f"a whole number from 1 to {HIGHEST_PORT}")
    return int(text)
