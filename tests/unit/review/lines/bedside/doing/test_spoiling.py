"""Which flush a thing bears."""

import pytest

from app.review.lines.bedside.doing.spoiling import bears_glucose, salt_spoils
from app.review.lines.bedside.problem import Means
from app.review.pairs.things import Thing, things_of
from tests.unit.review.lines.bedside.conftest import CaseOf


def thing(case_of: CaseOf, name: str, kind: str) -> Thing:
    (one,) = things_of(case_of(co=[{"name": name, "kind": kind}]))
    return one


@pytest.mark.parametrize(
    ("name", "kind", "answers"),
    [
        ("amiodarone 300 mg over 60 min", "drug", (True, True)),
        ("ceftriaxone 2 g over 30 min", "drug", (True, False)),
        ("red cells 1 unit over 2 h", "blood", (False, False)),
        ("phenytoin 1 g over 60 min", "drug", (False, False)),
        ("something unheard of", "drug", (False, False)),
    ],
)
def test_what_bears_which_flush(
    case_of: CaseOf, means: Means, name: str, kind: str, answers: tuple[bool, bool]
) -> None:
    known = thing(case_of, name, kind), means.book, means.catalogue
    assert (bears_glucose(*known), salt_spoils(*known)) == answers
