"""`ringside serve`."""

import argparse
import os
from collections.abc import Iterable
from contextlib import suppress
from typing import Final

import uvicorn

from app.cli.parts import Commands, complain, migrated_database
from app.settings import LOOPBACK, SettingError, Settings, read_settings
from app.storage.database import reading
from app.storage.people.accounts import Account, any_account
from app.storage.people.demo import DEMO_PASSWORD, demo_people

WAS_A_DEMO: Final = (
    "This database was a demo unit's, whose password everybody knows: any account or token in it "
    "may be a stranger's. Begin a real unit with a database of its own."
)
NO_SECRET: Final = (
    "RINGSIDE_SECRET is not set: the trail is not sealed, and what was typed before a session was "
    "over is lost when the server starts anew."
)


def add(commands: Commands) -> None:
    """The command's options."""
    serve = commands.add_parser("serve", help="serve the pages and the interface")
    serve.add_argument("--host", help="address to listen on (default: HOST, or 127.0.0.1)")
    serve.add_argument("--port", help="port (default: PORT, or 8000)")
    serve.set_defaults(command=_serve)


def _serve(asked: argparse.Namespace) -> int:
    given = {"HOST": asked.host, "PORT": asked.port}
    environment = {**os.environ, **{name: value for name, value in given.items() if value}}
    settings = read_settings(environment)
    with migrated_database(settings) as engine, reading(engine) as session:
        _may_listen(settings, any_account(session))
        people = demo_people(session)
    sign_ins = people if settings.demo else ()
    os.environ.update(environment)  # the app reads its settings by itself
    config = uvicorn.Config("app.main:create_app", factory=True, log_level="warning")
    config.host, config.port = settings.host, settings.port
    config.load()
    listening = config.bind_socket()
    print(f"Ringside: {address_of(settings)}", flush=True)
    complain(doubts(settings, people))
    for line in sign_in_lines(sign_ins):
        print(line, flush=True)
    with suppress(KeyboardInterrupt):  # how a person stops it
        uvicorn.Server(config).run(sockets=[listening])
    return 0


def address_of(settings: Settings) -> str:
    """Where it answers, as a browser takes it."""
    host = f"[{settings.host}]" if ":" in settings.host else settings.host
    return f"http://{host}:{settings.port}"


def _may_listen(settings: Settings, any_account: bool) -> None:
    """Loopback only, until somebody can sign in; the demo unit holds nobody real."""
    if settings.host in LOOPBACK or settings.demo or any_account:
        return
    accepted = f"{', '.join(sorted(LOOPBACK))}; any address once there is an account"
    raise SettingError("HOST", settings.host, accepted)


def doubts(settings: Settings, people: Iterable[Account]) -> tuple[str, ...]:
    """What whoever starts it should know: nothing in a demo, which holds nobody real."""
    if settings.demo:
        return ()
    told = {WAS_A_DEMO: any(people), NO_SECRET: not settings.trail_secret}
    return tuple(words for words, is_so in told.items() if is_so)


def sign_in_lines(people: Iterable[Account]) -> tuple[str, ...]:
    """Who may sign in to the demo unit, and by which password."""
    lines = tuple(
        f"  {one.sign_in}  ({one.name}, {', '.join(sorted(one.roles))})" for one in people
    )
    return (f"Demo sign-ins, all with the password “{DEMO_PASSWORD}”:", *lines) if lines else ()
