"""What waits on the house's sign-in holds up no page."""

from threading import Event

from anyio import create_task_group, to_thread

from app.security.oidc.threads import AT_ONCE, in_own_thread
from tests.aside import run


def test_however_much_waits_on_the_house_the_pages_threads_are_free() -> None:
    go, waiting = Event(), []

    def wait(number: int) -> None:
        waiting.append(number)
        go.wait(5)

    async def all_at_once() -> int:
        to_thread.current_default_thread_limiter().total_tokens = 1
        async with create_task_group() as house:
            for number in range(2 * AT_ONCE):
                house.start_soon(in_own_thread, wait, number)
            while len(waiting) < AT_ONCE:
                await to_thread.run_sync(len, waiting)  # a page's thread
            meanwhile = len(waiting)
            go.set()
        return meanwhile

    assert run(all_at_once) == AT_ONCE
    assert sorted(waiting) == list(range(2 * AT_ONCE))


def test_what_it_gives_and_raises_comes_through() -> None:
    assert run(in_own_thread, int, "7") == 7
