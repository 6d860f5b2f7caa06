"""A rehearsal's address holds ids only, and its sums are said in a sentence."""

from datetime import UTC, datetime, timedelta
from types import MappingProxyType
from urllib.parse import parse_qs, urlsplit

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.stock.counts import NOTHING_COUNTED
from app.catalogue.stock.stock import NOTHING_TOLD
from app.review.shortage.asked import read_asked
from app.review.shortage.draws import Use
from app.review.shortage.lasting import Lasting
from app.review.shortage.loss import Loss
from app.review.shortage.rehearsal import Rehearsal
from app.web.fluids.shelf import Shelf
from app.web.shortage.view import FILE, PLAN, address, result_of, summary_of, title_of

NOW = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)
SIZES = {"sodium-chloride-0.9": frozenset({1000}), "mannitol-20": frozenset()}
LOSS = Loss(SIZES, NOW, 0.625, True, True, True, 14)


@pytest.fixture
def empty(catalogue: Catalogue) -> Rehearsal[str]:
    fluids = [fluid for key in SIZES if (fluid := catalogue.get(key)) is not None]
    left = tuple(
        Lasting(fluid, (), Use(fluid), None, (), None, MappingProxyType({})) for fluid in fluids
    )
    return Rehearsal(LOSS, left, (), (), (), (), ())


def test_an_address_reads_back_to_the_same_loss(catalogue: Catalogue) -> None:
    given = parse_qs(urlsplit(address(LOSS, NOW)).query)
    assert read_asked(given, catalogue, NOW).loss == Loss(
        MappingProxyType(SIZES), NOW, 0.625, True, True, True, 14
    )


def test_plan_and_file_have_the_same_fields() -> None:
    query = urlsplit(address(LOSS, NOW)).query
    assert address(LOSS, NOW, PLAN) == f"/shortage/plan?{query}"
    assert address(LOSS, NOW, FILE) == f"/shortage/plan.csv?{query}"


def test_what_is_lost_is_the_title(empty: Rehearsal[str]) -> None:
    assert title_of(empty) == "1,000 mL bags of 0.9% sodium chloride; 20% mannitol"


def test_with_nobody_concerned_the_summary_says_so(empty: Rehearsal[str]) -> None:
    assert summary_of(empty) == "No order and no drug of this unit draws on what is lost."
    result = result_of(empty, {}, Shelf(NOTHING_TOLD, NOW), NOTHING_COUNTED)
    assert result.summary == summary_of(empty)
    assert (result.orders, result.over, result.unclear, result.drugs) == ((), (), (), ())
    assert result.share == "62.5% of deliveries and what is here"
    assert [row.name for row in result.lost] == ["0.9% sodium chloride", "20% mannitol"]


def test_what_begins_now_says_no_moment_and_what_begins_later_does() -> None:
    assert "from" not in parse_qs(urlsplit(address(LOSS, NOW)).query)
    earlier = NOW - timedelta(hours=2)
    assert parse_qs(urlsplit(address(LOSS, earlier)).query)["from"] == ["2031-03-04T07:05"]
