"""`ringside serve`."""

import argparse
import os
from contextlib import suppress

import uvicorn

from app.cli.parts import Commands, migrated_database
from app.settings import Settings, read_settings


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
    os.environ.update(environment)  # the app reads its settings by itself
    with migrated_database(settings):
        pass
    config = uvicorn.Config("app.main:create_app", factory=True, log_level="warning")
    config.host, config.port = settings.host, settings.port
    config.load()
    listening = config.bind_socket()
    print(f"Ringside: {address_of(settings)}", flush=True)
    with suppress(KeyboardInterrupt):  # how a person stops it
        uvicorn.Server(config).run(sockets=[listening])
    return 0


def address_of(settings: Settings) -> str:
    """Where it answers, as a browser takes it."""
    host = f"[{settings.host}]" if ":" in settings.host else settings.host
    return f"http://{host}:{settings.port}"
