from app.security.acts import Act, Role
from app.security.person import Person


def somebody(*roles: Role) -> Person:
    return Person("a1", "Ines Vale", frozenset(roles), "local")


def test_several_roles_may_what_any_of_them_may() -> None:
    both = somebody(Role.NURSE, Role.ADMINISTRATOR)
    assert both.may(Act.SEE_PATIENTS)
    assert both.may(Act.MANAGE_ACCOUNTS)
    assert not both.may(Act.SIGN_NOTES)


def test_somebody_without_a_role_may_nothing() -> None:
    assert not any(somebody().may(act) for act in Act)
