"""Shares, intervals and agreement of what two people say."""

import pytest

from app.review.burden.precision import (
    LOOKED_AT_FROM,
    TOO_FEW,
    Precision,
    cohen_kappa,
    kappa_or_none,
    needed_to_show,
    precision_of,
    wilson,
)

AGREED = ("useful", "useful")
SPLIT = ("useful", "wrong")
NEITHER = ("not useful", "wrong")


def test_a_finding_is_useful_only_where_both_say_so() -> None:
    found = precision_of([AGREED] * 6 + [SPLIT, ("not useful", "useful")] + [NEITHER] * 2)
    assert found == Precision(both=6, one=2, neither=2)
    assert found.share == 0.6


def test_too_few_is_said_instead_of_a_share() -> None:
    few = precision_of([AGREED] * (TOO_FEW - 1))
    assert (few.share, few.interval, few.is_enough) == (None, None, False)
    assert kappa_or_none([AGREED, NEITHER] * 4) is None
    enough = precision_of([AGREED] * TOO_FEW)
    assert enough.share == 1
    assert enough.interval is not None
    assert enough.interval.high == 1
    assert enough.interval.low == pytest.approx(0.7225, abs=5e-5)


def test_a_rule_often_shown_and_seldom_useful_is_to_be_looked_at() -> None:
    assert Precision(14, 0, LOOKED_AT_FROM - 14).is_to_be_looked_at
    assert not Precision(15, 0, LOOKED_AT_FROM - 15).is_to_be_looked_at
    assert not Precision(0, 0, LOOKED_AT_FROM - 1).is_to_be_looked_at


def test_agreement_has_its_ends_and_its_middle() -> None:
    assert cohen_kappa([AGREED, ("wrong", "wrong")]) == 1
    assert cohen_kappa([("useful", "wrong"), ("wrong", "useful")]) == -1
    chance = [AGREED, ("useful", "wrong"), ("wrong", "useful"), ("wrong", "wrong")]
    assert cohen_kappa(chance) == 0


def test_agreement_is_not_defined_where_nobody_could_disagree() -> None:
    assert cohen_kappa([]) is None
    assert cohen_kappa([AGREED] * 20) is None


@pytest.mark.parametrize(("hits", "of"), [(0, 0), (3, 2), (-1, 4)])
def test_no_share_has_no_interval(hits: int, of: int) -> None:
    with pytest.raises(ValueError, match="no share"):
        wilson(hits, of)


def test_how_many_are_shown_for_one_that_helps() -> None:
    assert needed_to_show(0.25) == 4
    assert needed_to_show(0.0) is None
    assert needed_to_show(None) is None
