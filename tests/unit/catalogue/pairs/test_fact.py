"""What one fact says of two things."""

import pytest

from app.catalogue.pairs.fact import STRICTEST_FIRST, PairFact, Verdict
from app.catalogue.source import Source


def fact(verdict: Verdict = "keep apart", a: str = "x", b: str = "y") -> PairFact:
    return PairFact(a, b, verdict, Source("label"))


def test_no_data_is_stricter_than_any_permission() -> None:
    strict = [fact(verdict).strictness for verdict in STRICTEST_FIRST]
    assert strict == sorted(strict)
    assert fact("no data").strictness < fact("only if").strictness
    assert fact("only if").strictness < fact("may run together").strictness


@pytest.mark.parametrize(
    ("verdict", "never"),
    [("keep apart", True), ("in turn", True), ("no data", False), ("only if", False)],
)
def test_in_turn_means_never_at_the_same_time(verdict: Verdict, *, never: bool) -> None:
    assert fact(verdict).never_at_once is never


def test_a_rule_about_any_drug_or_fluid_is_general() -> None:
    assert fact(a="any drug").is_general
    assert fact(b="any fluid").is_general
    assert not fact().is_general
