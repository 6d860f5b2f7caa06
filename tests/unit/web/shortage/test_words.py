"""Bags, days and distances in words."""

import math
from datetime import UTC, datetime

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.stock.counts import NOTHING_COUNTED, BagCount, Counts
from app.chemistry.composition import Composition
from app.review.shortage.distance import distance
from app.review.shortage.loss import Loss
from app.review.shortage.packs import Bags
from app.web.shortage import words

NOW = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)


def test_a_size_that_is_lost_is_named_with_its_fluid(catalogue: Catalogue) -> None:
    saline = catalogue.get("sodium-chloride-0.9")
    assert saline is not None
    assert words.lost_name(saline.id, saline) == "0.9% sodium chloride"
    named = words.lost_name(f"{saline.id}@1000", saline)
    assert named == "1,000 mL bags of 0.9% sodium chloride"


@pytest.mark.parametrize(
    ("share", "shelf", "text"),
    [
        (1.0, False, "all deliveries"),
        (0.6, False, "60% of deliveries"),
        (1.0, True, "all deliveries and what is here"),
    ],
)
def test_how_much_is_lost_is_said(share: float, shelf: bool, text: str) -> None:
    assert words.share_text(Loss({}, NOW, share, shelf)) == text


@pytest.mark.parametrize(
    ("bags", "volume", "text"),
    [
        (Bags(1000, 1), 1000, "1,000 mL bag"),
        (Bags(1000, 1), 500, "500 mL of a 1,000 mL bag"),
        (Bags(500, 2), 1000, "2 bags of 500 mL"),
        (None, 1000, "no bag size known"),
    ],
)
def test_what_is_hung_is_said(bags: Bags | None, volume: float, text: str) -> None:
    assert words.hung_text(bags, volume) == text


@pytest.mark.parametrize(
    ("days", "text"),
    [
        (None, "not known: nobody has counted"),
        (math.inf, "not used here"),
        (0.0, "none left"),
        (5.7, "5.7 days, to Sun 9 Mar"),
        (1.0, "1 day, to Wed 5 Mar"),
        (9e9, "9,000,000,000 days"),
    ],
)
def test_days_left_are_said_with_the_day_or_why_not(days: float | None, text: str) -> None:
    assert words.days_text(days, NOW) == text


def test_bags_are_listed_from_the_largest() -> None:
    assert words.bags_text({500: 1.0, 1000: 8.288}) == "8.3 of 1,000 mL, 1 of 500 mL"
    assert words.bags_text({}) == ""
    assert words.sizes_text({100: None, 1000: 6.5}) == (
        "1,000 mL: 6.5 days; 100 mL: nobody has counted"
    )


def test_what_was_counted_is_said_by_size_place_and_time(catalogue: Catalogue) -> None:
    saline = catalogue.get("sodium-chloride-0.9")
    assert saline is not None
    counts = Counts.of(
        [BagCount(saline.id, 1000, "ward", 14, NOW), BagCount(saline.id, 1000, "pharmacy", 0, NOW)]
    )
    assert words.counted_text(saline, counts, NOW) == (
        "1,000 mL: 14 on the ward and 0 in pharmacy (07:05)"
    )
    assert words.counted_text(saline, NOTHING_COUNTED, NOW) == "nobody has counted"


def test_a_distance_says_what_counts_most_and_what_it_leaves_out() -> None:
    plain = Composition(sodium_mmol_l=154, chloride_mmol_l=154)
    other = Composition(sodium_mmol_l=130, chloride_mmol_l=109, potassium_mmol_l=4,
                        calcium_mmol_l=1.35, lactate_mmol_l=28)  # fmt: skip
    told = words.differs_text(distance(plain, other))
    assert told.startswith("chloride 109 instead of 154 mmol/L, potassium 4 instead of 0 mmol/L")
    assert told.endswith("1 smaller difference")
    assert words.differs_text(distance(plain, plain)) == "holds the same"
    unlabelled = Composition(sodium_mmol_l=154, chloride_mmol_l=None)
    assert "chloride not on a label" in words.differs_text(distance(plain, unlabelled))
