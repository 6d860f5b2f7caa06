"""Whatever is tried, in whatever order: waits are never negative, never without end, and never
shorter for having tried more; what was typed comes back as it was.
"""

from datetime import UTC, datetime, timedelta
from string import printable

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import Engine, create_engine, delete

from app.security.kept import Kept, seal, unseal
from app.security.passwords import SHORTEST, PasswordRefused, accept
from app.storage.database import transaction
from app.storage.people.attempts import (
    BY_ADDRESS,
    BY_NAME,
    Allowance,
    by_address,
    by_name,
    count_try,
)
from app.storage.people.tables import AttemptRow

NOW = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)
ALLOWANCES = st.builds(
    Allowance, free=st.integers(0, 50), first_wait_s=st.integers(1, 60),
    longest_wait_s=st.integers(60, 3600),
)  # fmt: skip


@given(ALLOWANCES, st.integers(0, 10**9), st.integers(0, 10**9))
def test_a_wait_grows_with_the_tries_and_stays_within_its_bounds(
    allowance: Allowance, fewer: int, more: int
) -> None:
    fewer, more = sorted((fewer, more))
    waits = allowance.wait_s(fewer), allowance.wait_s(more)
    assert 0 <= waits[0] <= waits[1] <= allowance.longest_wait_s
    assert (waits[0] == 0) == (fewer <= allowance.free)


@pytest.fixture(scope="module")
def engine() -> Engine:
    made = create_engine("sqlite://")
    AttemptRow.__table__.create(made)  # type: ignore[attr-defined]
    return made


@given(st.lists(st.tuples(st.sampled_from("abc"), st.integers(-4000, 4000)), max_size=40))
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
def test_any_tries_at_any_times_wait_a_bounded_while_and_always_come_through(
    engine: Engine, tries: list[tuple[str, int]]
) -> None:
    with transaction(engine) as session:
        session.execute(delete(AttemptRow))
    now = NOW
    for name, seconds in tries:
        now += timedelta(seconds=seconds)  # a clock may be set back
        with transaction(engine) as session:
            left = count_try(session, (by_name(name), by_address("desk")), now)
        assert 0 <= left <= max(BY_NAME.longest_wait_s, BY_ADDRESS.longest_wait_s) + 60
        if left:
            with transaction(engine) as session:
                after = now + timedelta(seconds=left)
                assert count_try(session, (by_name(name), by_address("desk")), after) == 0
            now = after


FIELDS = st.lists(st.tuples(st.text(min_size=1, max_size=20), st.text(max_size=200)), max_size=20)


@given(FIELDS, st.text(alphabet=printable, max_size=60))
def test_what_was_typed_comes_back_as_it_was_and_to_no_other_server(
    fields: list[tuple[str, str]], address: str
) -> None:
    kept = Kept("a-1", "Ines", address, tuple(fields))
    sealed = seal(kept, "secret of this server", NOW)
    assert unseal(sealed, "secret of this server", NOW) == kept
    assert unseal(sealed, "another secret", NOW) is None
    assert unseal(sealed[:-3], "secret of this server", NOW) is None


@given(st.text(max_size=300))
def test_a_password_is_accepted_as_it_is_or_refused_with_what_is(password: str) -> None:
    try:
        assert accept(password, "ines", "Ines Vale") == password
    except PasswordRefused as refused:
        assert "Accepted:" in str(refused)
        assert password == "" or password not in str(refused) or len(password) < SHORTEST
