"""Every route an app answers, whichever router it came with."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from fastapi import FastAPI


@dataclass(frozen=True)
class Answered:
    """One route: where, by which methods, by which function."""

    path: str
    methods: frozenset[str]
    endpoint: Callable[..., Any]
    dependencies: frozenset[Callable[..., Any]]


def routes_of(app: FastAPI) -> Iterator[Answered]:
    """All routes with an endpoint; included routers are opened, mounted folders are not."""
    for route in app.routes:
        opened = getattr(route, "effective_route_contexts", None)
        for one in opened() if opened else (route,):
            if getattr(one, "methods", None):
                needs = getattr(one, "dependant", None)
                calls = frozenset(d.call for d in needs.dependencies) if needs else frozenset()
                yield Answered(one.path, frozenset(one.methods), one.endpoint, calls)
