"""Run what is asynchronous in a thread of its own: a browser driven from this one has its loop."""

from collections.abc import Awaitable, Callable
from concurrent.futures import ThreadPoolExecutor
from typing import Any, TypeVar

import anyio

Given = TypeVar("Given")


def run(work: Callable[..., Awaitable[Given]], *given: Any) -> Given:  # noqa: ANN401
    """What the work gives, or raises."""
    with ThreadPoolExecutor(1) as aside:
        return aside.submit(anyio.run, work, *given).result()
