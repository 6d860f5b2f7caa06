from datetime import UTC, datetime

from sqlalchemy import Engine

from app.storage.database import transaction
from app.storage.people.accounts import NewAccount, add_account, find_account, set_roles
from app.storage.people.demo import DEMO_PEOPLE, demo_people, load_demo_people

NOW = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)


def test_somebody_in_every_role_and_a_second_pharmacist_are_made_once(engine: Engine) -> None:
    with transaction(engine) as session:
        made = load_demo_people(session, "hash", NOW)
        assert made == tuple(sign_in for sign_in, _, _ in DEMO_PEOPLE)
        roles = sorted(role for one in demo_people(session) for role in one.roles)
    assert roles == [
        "administrator", "educator", "nurse", "pharmacist", "pharmacist", "prescriber",
    ]  # fmt: skip


def test_loading_again_undoes_nothing(engine: Engine) -> None:
    with transaction(engine) as session:
        load_demo_people(session, "hash", NOW)
        nurse = find_account(session, "nurse")
        assert nurse is not None
        set_roles(session, nurse.id, ["educator"])
        assert load_demo_people(session, "hash", NOW) == ()
        again = find_account(session, "nurse")
        assert again is not None
        assert again.roles == {"educator"}


def test_a_name_somebody_real_signs_in_by_is_left_to_them(engine: Engine) -> None:
    with transaction(engine) as session:
        real = add_account(session, NewAccount("nurse", "Real", frozenset({"nurse"})), NOW)
        assert "nurse" not in load_demo_people(session, "hash", NOW)
        assert find_account(session, "nurse") == real
