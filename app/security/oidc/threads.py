"""Threads for what waits on the house's sign-in: while that is silent, no page waits with it."""

from collections.abc import Callable
from typing import Final, TypeVar, TypeVarTuple

from anyio import CapacityLimiter, to_thread
from anyio.lowlevel import RunVar

AT_ONCE: Final = 4
THREADS: Final[RunVar[CapacityLimiter]] = RunVar("threads for the house")
T = TypeVar("T")
Given = TypeVarTuple("Given")


async def in_own_thread(do: Callable[[*Given], T], *given: *Given) -> T:
    """What a function gives, run beside the threads of the pages."""
    return await to_thread.run_sync(do, *given, limiter=_threads())


def _threads() -> CapacityLimiter:
    try:
        return THREADS.get()
    except LookupError:
        THREADS.set(threads := CapacityLimiter(AT_ONCE))
        return threads
