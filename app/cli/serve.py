"""`ringside serve`."""

import argparse
import os
from collections.abc import Iterable
from contextlib import suppress

import uvicorn

from app.cli.parts import Commands, migrated_database
from app.settings import LOOPBACK, SettingError, Settings, read_settings
from app.storage.database import reading
from app.storage.people.accounts import Account, any_account
from app.storage.people.demo import DEMO_PASSWORD, demo_people


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
        sign_ins = demo_people(session) if settings.demo else ()
    os.environ.update(environment)  # the app reads its settings by itself
    config = uvicorn.Config("app.main:create_app", factory=True, log_level="warning")
    config.host, config.port = settings.host, settings.port
    config.load()
    listening = config.bind_socket()
    print(f"Ringside: {address_of(settings)}", flush=True)
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


def sign_in_lines(people: Iterable[Account]) -> tuple[str, ...]:
    """Who may sign in to the demo unit, and by which password."""
    lines = tuple(
        f"  {one.sign_in}  ({one.name}, {', '.join(sorted(one.roles))})" for one in people
    )
    return (f"Demo sign-ins, all with the password “{DEMO_PASSWORD}”:", *lines) if lines else ()
