"""Settings, read once from the environment and frozen."""

import os
import secrets
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

from app.security.oidc.house import HOUSE_HELP, House, HouseError, house_told

ROOT: Final = Path(__file__).resolve().parents[1]
DEFAULT_DATABASE_URL: Final = f"sqlite:///{ROOT / 'var' / 'ringside.db'}"
DEFAULT_HOST: Final = "127.0.0.1"
DEFAULT_PORT: Final = 8000
HIGHEST_PORT: Final = 65535
DEFAULT_BURDEN_CAP: Final = 5.0
HIGHEST_BURDEN_CAP: Final = 1000.0
DEFAULT_IDLE_MINUTES: Final = 15.0
LONGEST_IDLE_MINUTES: Final = 240.0
DEFAULT_SESSION_HOURS: Final = 12.0
LONGEST_SESSION_HOURS: Final = 24.0
SHORTEST_SECRET: Final = 16
# Within a week a patient may be without a new result; ten years are no retention any more.
LEAST_KEEP_DAYS: Final = 7
LONGEST_KEEP_DAYS: Final = 3650
DEMO_TOKEN: Final = "demo"
LOOPBACK: Final = frozenset({"127.0.0.1", "::1", "localhost"})
YES: Final = frozenset({"1", "yes", "true", "on"})
NO: Final = frozenset({"", "0", "no", "false", "off"})
DATABASES: Final = ("sqlite:///", "postgresql")
SETTINGS_HELP: Final = {
    "RINGSIDE_DATABASE_URL": "where the data is kept; default: SQLite under ./var/",
    "RINGSIDE_SECRET": "signs what a browser keeps and seals the trail; at least 16 characters",
    "RINGSIDE_DEMO": "1: the demo unit, its sign-ins, and the machine token `demo`",
    "RINGSIDE_API_TOKENS": "bearer tokens of machine clients, separated by commas; they open all",
    "RINGSIDE_OPEN_READING": "1: fluids, pairs and rules are read without signing in; "
    "default: as RINGSIDE_DEMO",
    "RINGSIDE_IDLE_MINUTES": "minutes without a touch after which a session locks; default 15",
    "RINGSIDE_SESSION_HOURS": "hours after which one signs in anew; default 12",
    "RINGSIDE_HTTPS": "1: browsers come by https; default: 1 where HOST is not loopback",
    "RINGSIDE_BURDEN_CAP": "findings at warning or above per 100 orders by which a change may add "
    "to them without a written reason; default 5",
    "RINGSIDE_DASK_ADDRESS": "a Dask scheduler that replays run on (extra `cluster`); "
    "default: this machine's cores",
    "RINGSIDE_KEEP_DAYS": "days after which `ringside purge` takes away what was last heard of "
    "patients, past requests and sessions; no default",
    **HOUSE_HELP,
    "HOST": "address to listen on; default 127.0.0.1; others once there is an account",
    "PORT": "port to listen on; default 8000",
}


# Not frozen: Python itself sets an exception's traceback as it passes a context manager.
@dataclass(unsafe_hash=True)
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
class Lasting:
    """A length of time that may be set: what it is when unset, and at most."""

    unit: str
    usual: float
    longest: float


IDLE_MINUTES: Final = Lasting("minutes", DEFAULT_IDLE_MINUTES, LONGEST_IDLE_MINUTES)
SESSION_HOURS: Final = Lasting("hours", DEFAULT_SESSION_HOURS, LONGEST_SESSION_HOURS)


@dataclass(frozen=True, slots=True)
class Settings:
    """How this server runs. secret and api_tokens stay out of every printed form.

    trail_secret: the secret only when one is set; one made up at start could seal nothing.
    """

    database_url: str = field(default=DEFAULT_DATABASE_URL, repr=False)
    secret: str = field(default="", repr=False)
    trail_secret: str = field(default="", repr=False)
    demo: bool = False
    api_tokens: frozenset[str] = field(default=frozenset(), repr=False)
    host: str = DEFAULT_HOST
    port: int = DEFAULT_PORT
    open_reading: bool = False
    idle_minutes: float = DEFAULT_IDLE_MINUTES
    session_hours: float = DEFAULT_SESSION_HOURS
    https: bool = False
    house: House | None = None
    burden_cap: float = DEFAULT_BURDEN_CAP
    dask_address: str = ""
    keep_days: int | None = None


def read_settings(environ: Mapping[str, str] | None = None) -> Settings:
    """The settings the environment asks for. Raises SettingError naming the variable."""
    given = os.environ if environ is None else environ
    demo = _yes_or_no(given, "RINGSIDE_DEMO")
    host = given.get("HOST", "").strip() or DEFAULT_HOST
    return Settings(
        database_url=_database_url(given),
        secret=_secret(given),
        trail_secret=given.get("RINGSIDE_SECRET", ""),
        keep_days=_keep_days(given),
        demo=demo,
        api_tokens=_tokens(given, demo=demo),
        host=host,
        port=_port(given),
        open_reading=_yes_or_no(given, "RINGSIDE_OPEN_READING", unset=demo),
        idle_minutes=_lasting(given, "RINGSIDE_IDLE_MINUTES", IDLE_MINUTES),
        session_hours=_lasting(given, "RINGSIDE_SESSION_HOURS", SESSION_HOURS),
        burden_cap=_cap(given),
        dask_address=given.get("RINGSIDE_DASK_ADDRESS", "").strip(),
        house=_house(given),
        https=_yes_or_no(given, "RINGSIDE_HTTPS", unset=not demo and host not in LOOPBACK),
    )


def _yes_or_no(given: Mapping[str, str], variable: str, *, unset: bool = False) -> bool:
    value = given.get(variable, "").strip().lower()
    if value not in YES | NO:
        raise SettingError(variable, value, "1 or 0")
    return value in YES if value else unset


def _lasting(given: Mapping[str, str], variable: str, lasts: Lasting) -> float:
    """A length of time. One that is too long would leave patients on an empty desk's screen."""
    text = given.get(variable, "").strip()
    if not text:
        return lasts.usual
    accepted = f"{lasts.unit} above 0, at most {lasts.longest:g}"
    try:
        value = float(text)
    except ValueError:
        raise SettingError(variable, text, accepted) from None
    if not 0 < value <= lasts.longest:
        raise SettingError(variable, text, accepted)
    return value


def _house(given: Mapping[str, str]) -> House | None:
    try:
        return house_told(given)
    except HouseError as wrong:
        raise SettingError(wrong.field, wrong.value, wrong.accepted) from wrong


def _keep_days(given: Mapping[str, str]) -> int | None:
    """How long patients are kept; None when nobody said."""
    text = given.get("RINGSIDE_KEEP_DAYS", "").strip()
    if not text:
        return None
    days = int(text) if text.isascii() and text.isdigit() and len(text) <= len("3650") else 0
    if not LEAST_KEEP_DAYS <= days <= LONGEST_KEEP_DAYS:
        accepted = f"whole days from {LEAST_KEEP_DAYS} to {LONGEST_KEEP_DAYS}, or unset"
        raise SettingError("RINGSIDE_KEEP_DAYS", text, accepted)
    return days


def _cap(given: Mapping[str, str]) -> float:
    """By how much a change may add to what is said; 0 asks for a reason for any rise."""
    text = given.get("RINGSIDE_BURDEN_CAP", "").strip() or str(DEFAULT_BURDEN_CAP)
    accepted = f"findings per 100 orders, from 0 to {HIGHEST_BURDEN_CAP:g}"
    try:
        cap = float(text)
    except ValueError:
        raise SettingError("RINGSIDE_BURDEN_CAP", text, accepted) from None
    if not 0 <= cap <= HIGHEST_BURDEN_CAP:
        raise SettingError("RINGSIDE_BURDEN_CAP", text, accepted)
    return cap


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


def _port(given: Mapping[str, str]) -> int:
    text = given.get("PORT", "").strip() or str(DEFAULT_PORT)
    if not text.isascii() or not text.isdigit() or not 0 < int(text) <= HIGHEST_PORT:
        raise SettingError("PORT", text, f"a whole number from 1 to {HIGHEST_PORT}")
    return int(text)
