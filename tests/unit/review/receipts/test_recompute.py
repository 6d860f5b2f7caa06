"""A receipt made again gives the same to the digit, or it is said where not."""

from collections.abc import Iterable
from copy import deepcopy
from dataclasses import replace

import pytest

from app.canonical import digest
from app.catalogue.catalogue import Catalogue
from app.review.knowledge import Knowledge
from app.review.receipts.reading import kept
from app.review.receipts.receipt import Receipt
from app.review.receipts.recompute import Verdict, differences, recomputed
from tests.unit.review.receipts.conftest import REQUEST, made


def verdicts(
    receipts: Iterable[Receipt], knowledge: Knowledge, *, whole: bool = True
) -> tuple[Verdict, ...]:
    read = [kept(receipt, f"{receipt['number']}.json") for receipt in receipts]
    return recomputed(read, knowledge, whole=whole)


def hashed(receipt: Receipt) -> Receipt:
    """A receipt whose forger knows how hashes are made."""
    return {**receipt, "sha256": digest(receipt)}


def with_limit(knowledge: Knowledge, rule_id: str, **values: float) -> Knowledge:
    """A hospital's own limit for one rule."""
    limits = {**knowledge.ruleset.limits}
    limits[rule_id] = {**limits[rule_id], **values}
    return replace(knowledge, ruleset=replace(knowledge.ruleset, limits=limits, version="own"))


def test_a_chain_made_again_is_the_same_to_the_digit(
    receipts: list[Receipt], knowledge: Knowledge
) -> None:
    found = verdicts(receipts, knowledge)
    assert [str(v) for v in found] == [f"{r['number']}.json: same to the digit" for r in receipts]


def test_an_edit_is_found(receipts: list[Receipt], knowledge: Knowledge) -> None:
    receipts[1]["figures"] = {**receipts[1]["figures"], "potassium_mmol_l": 5.8}
    found = verdicts(receipts, knowledge)
    assert [v.state for v in found][:3] == ["same", "edited", "same"]


def test_an_edit_with_a_new_hash_still_differs_and_breaks_the_chain(
    receipts: list[Receipt], knowledge: Knowledge
) -> None:
    receipts[0] = hashed({**receipts[0], "level": "info"})
    found = verdicts(receipts, knowledge)
    assert found[0].state == "differs"
    assert 'level: "info" in the receipt, "critical" now' in found[0].text
    assert [(v.name, v.state) for v in found[len(receipts) :]] == [("2.json", "broken")]


@pytest.mark.parametrize("lost", [0, 1, -1])
def test_a_receipt_taken_away_is_missed(
    receipts: list[Receipt], knowledge: Knowledge, lost: int
) -> None:
    total = len(receipts)
    del receipts[lost]
    told = [v.text for v in verdicts(receipts, knowledge) if v.state == "broken"]
    assert told == [f"1 of its {total} receipts are not here"]


def test_swapped_receipts_are_found(receipts: list[Receipt], knowledge: Knowledge) -> None:
    receipts[0], receipts[1] = receipts[1], receipts[0]
    broken = [str(v) for v in verdicts(receipts, knowledge) if v.state == "broken"]
    assert broken == ["1.json: number 1 stands after number 2"]


def test_one_receipt_alone_misses_no_other(receipts: list[Receipt], knowledge: Knowledge) -> None:
    (found,) = verdicts(receipts[1:2], knowledge, whole=False)
    assert found.state == "same"


def test_another_limit_at_hand_is_told_and_the_receipts_own_is_used(
    receipts: list[Receipt], knowledge: Knowledge
) -> None:
    at_hand = with_limit(knowledge, "k-hyper", potassium_high_mmol_l=7.5)
    found = verdicts(receipts[:1], at_hand, whole=False)
    assert receipts[0]["rule_id"] == "k-hyper"
    assert found[0].state == "same"
    assert "made with another ruleset" in found[0].text
    assert "(at hand own)" in found[0].text


def test_another_label_at_hand_is_told_and_the_receipts_own_is_used(
    receipts: list[Receipt], knowledge: Knowledge
) -> None:
    fluid_id = receipts[0]["understood"]["orders"][0]["fluid_id"]
    fluids = tuple(
        replace(f, composition=replace(f.composition, potassium_mmol_l=9.0))
        if f.id == fluid_id
        else f
        for f in knowledge.catalogue
    )
    (found,) = verdicts(receipts[:1], replace(knowledge, catalogue=Catalogue(fluids)), whole=False)
    assert found.state == "same"
    assert "made with another catalogue" in found.text


def test_a_rule_that_no_longer_speaks_is_told(
    receipts: list[Receipt], knowledge: Knowledge
) -> None:
    rules = tuple(r for r in knowledge.ruleset.order_rules if r.id != "k-hyper")
    ruleset = replace(knowledge.ruleset, order_rules=rules, version="fewer")
    (found,) = verdicts(receipts[:1], replace(knowledge, ruleset=ruleset), whole=False)
    assert found.state == "differs"
    assert "k-hyper does not speak now" in found.text


def test_a_request_that_is_refused_now_is_told(
    receipts: list[Receipt], knowledge: Knowledge
) -> None:
    forged = deepcopy(receipts[0])
    forged["request"]["orders"][0]["rate_ml_h"] = -5
    (found,) = verdicts([hashed(forged)], knowledge, whole=False)
    assert found.state == "differs"
    assert "orders[0].rate_ml_h" in found.text


def test_receipts_of_two_reviews_in_one_folder_are_two_chains(
    receipts: list[Receipt], knowledge: Knowledge
) -> None:
    other = made({**REQUEST, "co_infusions": []}, knowledge)
    found = verdicts([*receipts, *other], knowledge)
    assert {v.state for v in found} == {"same"}
    assert len(found) == len(receipts) + len(other)


def test_differences_name_the_place() -> None:
    then, now = {"a": [1, {"b": 2.0}], "c": "x"}, {"a": [1, {"b": 2.5}], "d": None}
    assert list(differences(then, now)) == [
        "a[1].b: 2 in the receipt, 2.5 now",
        'c: "x" in the receipt, null now',
    ]
