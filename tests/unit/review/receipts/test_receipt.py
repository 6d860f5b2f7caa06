"""A receipt holds one finding and all it was made from."""

from app.catalogue.entry import fluid_from
from app.review.knowledge import Knowledge
from app.review.receipts.receipt import Receipt, file_name, told_of
from app.review.receipts.versions import versions_of
from app.review.workflow import review_request
from tests.unit.review.receipts.conftest import REQUEST, made


def test_every_finding_has_its_receipt_worst_first(
    receipts: list[Receipt], knowledge: Knowledge
) -> None:
    review = review_request(REQUEST, knowledge)
    assert [r["rule_id"] for r in receipts] == [f.rule.id for f in review.all_found]
    assert [r["number"] for r in receipts] == list(range(1, len(receipts) + 1))
    assert {r["of"] for r in receipts} == {len(receipts)}


def test_it_holds_the_request_as_written_and_the_moment(receipts: list[Receipt]) -> None:
    for receipt in receipts:
        assert receipt["request"] == REQUEST
        assert receipt["made_at"] == "2031-03-04T07:00:00+00:00"
        assert receipt["about"] == {"bed": "24", "initials": "A. B."}


def test_it_says_what_was_found_why_and_what_to_do(receipts: list[Receipt]) -> None:
    potassium = next(r for r in receipts if r["rule_id"] == "k-hyper")
    assert potassium["level"] == "critical"
    assert potassium["figures"]["potassium_mmol_l"] == 5.9
    assert potassium["order_ids"] == ["o1"]
    for text in ("title", "summary", "why", "do", "trigger"):
        assert potassium[text]
    assert all({"work", "place", "seen"} <= set(source) for source in potassium["sources"])


def test_each_limit_stands_with_its_value_in_force_and_as_shipped(receipts: list[Receipt]) -> None:
    limits = [limit for receipt in receipts for limit in receipt["limits"]]
    assert limits
    assert all(limit["in_force"] == limit["shipped"] for limit in limits)
    assert any(limit["compared"] for limit in limits)


def test_its_fluid_reads_back_as_the_catalogues(
    receipts: list[Receipt], knowledge: Knowledge
) -> None:
    (document,) = receipts[0]["fluids"]
    fluid_id = receipts[0]["understood"]["orders"][0]["fluid_id"]
    assert fluid_from(document, file_id=fluid_id) == knowledge.catalogue.get(fluid_id)
    assert receipts[0]["versions"] == versions_of(knowledge)


def test_each_carries_the_hash_of_the_one_before(receipts: list[Receipt]) -> None:
    hashes = [receipt["sha256"] for receipt in receipts]
    assert [receipt["previous"] for receipt in receipts] == ["", *hashes[:-1]]
    assert len(set(hashes)) == len(hashes)


def test_what_depends_on_the_fluid_meant_says_on_which(knowledge: Knowledge) -> None:
    order = {"fluid": "dextrose saline", "volume_ml": 1000, "rate_ml_h": 150,
             "purpose": "maintenance"}  # fmt: skip
    request = {**REQUEST, "orders": [order]}
    review = review_request(request, knowledge)
    depends = [one for one in told_of(review) if one.only_if]
    assert len(depends) == sum(len(order.depends) for order in review.orders)
    tail = made(request, knowledge)[-len(depends) :] if depends else []
    assert [receipt["only_if"] for receipt in tail] == [list(one.only_if) for one in depends]


def test_files_sort_by_number(receipts: list[Receipt]) -> None:
    names = list(map(file_name, receipts))
    assert names == sorted(names)
    assert names[0].endswith(f"-001-{receipts[0]['rule_id']}.json")
