"""A problem list cut where people mean a new statement."""

import pytest

from app.intake.problems.sentences import sentences


@pytest.mark.parametrize(
    ("written", "parts"),
    [
        ("ckd 4, no diabetes", [("ckd 4", "no diabetes")]),
        ("1. ccf 2. ckd 4 3. copd", [("ccf",), ("ckd 4",), ("copd",)]),
        ("head injury, ct normal, excluded", [("head injury", "ct normal excluded")]),
        ("t2dm (no dka)", [("t2dm", "no dka")]),
        ("pe, mi and sepsis all excluded", [("pe excluded", "mi and sepsis all excluded")]),
        ("ccf - no; ckd - yes", [("ccf - no",), ("ckd - yes",)]),
        ("ck 48,000", [("ck 48,000",)]), ("ckd stage 3. diabetes", [("ckd stage 3",),
        ("diabetes",)]),
    ],
)  # fmt: skip
def test_clauses_stand_as_they_are_meant(written: str, parts: list[tuple[str, ...]]) -> None:
    assert list(sentences(written)) == parts
