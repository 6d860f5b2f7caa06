"""The one table of who may do what."""

import pytest

from app.security.acts import MAY, Act, Role, roles_that_may


def test_every_role_has_its_line_and_every_act_somebody_who_may() -> None:
    assert set(MAY) == set(Role)
    assert all(roles_that_may(act) for act in Act)


def test_every_act_says_what_it_is_in_words_of_its_own() -> None:
    words = [act.says for act in Act]
    assert len(set(words)) == len(words)
    assert all(text and text[0].islower() and not text.endswith(".") for text in words)


def test_the_administrator_sees_no_patient_and_judges_nothing() -> None:
    assert MAY[Role.ADMINISTRATOR].isdisjoint(
        {Act.SEE_PATIENTS, Act.TRY_ORDERS, Act.TELL, Act.APPROVE, Act.SIGN_NOTES, Act.MARK}
    )


def test_whoever_tries_orders_or_tells_sees_patients() -> None:
    for act in (Act.TRY_ORDERS, Act.TELL):
        assert set(roles_that_may(act)) <= set(roles_that_may(Act.SEE_PATIENTS))


@pytest.mark.parametrize("role", [Role.NURSE, Role.EDUCATOR, Role.ADMINISTRATOR])
def test_content_is_changed_by_pharmacists_and_prescribers_alone(role: Role) -> None:
    assert MAY[role].isdisjoint({Act.DRAFT, Act.APPROVE, Act.REPLAY, Act.SIGN_NOTES})
