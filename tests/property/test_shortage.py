"""What must hold of every rehearsal, whatever is lost and whoever lies there."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.catalogue.stock.counts import BagCount, Counts
from app.catalogue.stock.stock import Stock, StockState
from app.review.assess import Review
from app.review.shortage.asked import read_asked
from app.review.shortage.candidates import Means
from app.review.shortage.changes import changes
from app.review.shortage.distance import distance
from app.review.shortage.loss import Loss
from app.review.shortage.offers import reviewed_with
from app.review.shortage.rehearsal import Rehearsal, Unit, rehearse
from app.review.workflow import review_request
from tests.conftest import NOW
from tests.property.test_review import KNOWN, QUICK, requests

FLUIDS = tuple(KNOWN.catalogue)
IDS = [fluid.id for fluid in FLUIDS]
LABELLED = [f for f in FLUIDS if f.composition.chloride_mmol_l is not None]
labelled = st.sampled_from(LABELLED)
TINY = 1e-9


@st.composite
def units(draw: st.DrawFn) -> tuple[tuple[str, Review], ...]:
    """A few patients, each reviewed."""
    many = draw(st.lists(requests(), min_size=1, max_size=4))
    reviews = (review_request(one, KNOWN, now=NOW) for one in many)
    return tuple((f"p{n}", review) for n, review in enumerate(reviews))


@st.composite
def losses(draw: st.DrawFn, reviews: tuple[tuple[str, Review], ...]) -> Loss:
    """What runs here, or anything else, lost whole or in one size."""
    used = [o.fluid.id for _, r in reviews for o in r.case.orders if o.fluid is not None]
    keys = draw(st.lists(st.sampled_from([*used, *IDS][:20] or IDS), min_size=1, max_size=3))
    sizes: dict[str, frozenset[int]] = {}
    for key in keys:
        fluid = KNOWN.catalogue.get(key)
        assert fluid is not None
        one = draw(st.sampled_from([None, *fluid.pack_sizes_ml]))
        sizes[key] = frozenset() if one is None else frozenset({one})
    return Loss(sizes, NOW, draw(st.floats(0.01, 1)), smaller=draw(st.booleans()))


@st.composite
def rehearsals(draw: st.DrawFn) -> tuple[Rehearsal[str], Unit[str], Means]:
    """A loss on some patients, with anything out and anything counted."""
    reviews = draw(units())
    gone = draw(st.sets(st.sampled_from(IDS), max_size=15))
    none = draw(st.sets(st.sampled_from(FLUIDS), max_size=8))
    counts = Counts.of(
        BagCount(fluid.id, size, "ward", 0, NOW) for fluid in none for size in fluid.pack_sizes_ml
    )
    stock = Stock({key: StockState("out", NOW, "late") for key in gone})
    means = Means(KNOWN.catalogue, KNOWN.ruleset, stock, counts)
    unit = Unit.of(reviews, means, KNOWN.vehicles)
    return rehearse(unit, draw(losses(reviews)), means), unit, means


@QUICK
@given(labelled)
def test_a_fluid_is_no_distance_from_itself(fluid: Any) -> None:  # noqa: ANN401
    assert distance(fluid.composition, fluid.composition).value == 0


@QUICK
@given(labelled, labelled)
def test_a_distance_is_the_same_both_ways_and_never_below_nothing(
    one: Any, other: Any  # noqa: ANN401
) -> None:  # fmt: skip
    there = distance(one.composition, other.composition)
    back = distance(other.composition, one.composition)
    assert there.value == pytest.approx(back.value)
    assert there.value >= 0
    assert (there.value == 0) == (not there.terms)


@QUICK
@given(labelled, labelled, labelled)
def test_a_detour_is_never_shorter(one: Any, by: Any, other: Any) -> None:  # noqa: ANN401
    straight = distance(one.composition, other.composition).value
    round_about = (
        distance(one.composition, by.composition).value
        + distance(by.composition, other.composition).value
    )
    # Differences under a label's last digit are left out of each leg.
    assert straight <= round_about + 2


@QUICK
@given(rehearsals())
def test_what_is_offered_can_be_had_is_not_lost_and_brings_nothing_critical(
    drawn: tuple[Rehearsal[str], Unit[str], Means],
) -> None:
    made, _, means = drawn
    for one in made.orders:
        for tried in (*one.offers.offered, *one.offers.critical):
            assert means.stock.may_offer(tried.fluid.id)
            assert not means.counts.none_left(tried.fluid)
            assert not made.loss.is_whole(tried.fluid.id)
            bags = tried.candidate.bags
            if bags is not None and tried.candidate.concentrate is None:
                assert not made.loss.has(tried.fluid.id, bags.size_ml)
        assert not any(tried.changes.brings_critical for tried in one.offers.offered)
        assert all(tried.changes.brings_critical for tried in one.offers.critical)
        away = [tried.candidate.away.value for tried in one.offers.offered]
        assert away == sorted(away)


@QUICK
@given(rehearsals())
def test_every_offer_was_reviewed_with_every_rule_on_its_patient(
    drawn: tuple[Rehearsal[str], Unit[str], Means],
) -> None:
    made, _, means = drawn
    for one in made.orders:
        for tried in one.offers.offered[:1]:
            again = reviewed_with(one.review, (tried.candidate,), means)
            assert changes(one.review, again) == tried.changes


@QUICK
@given(rehearsals())
def test_more_bags_than_ordered_are_offered_only_where_that_is_allowed(
    drawn: tuple[Rehearsal[str], Unit[str], Means],
) -> None:
    made, _, _ = drawn
    for one in made.orders:
        for tried in one.offers.offered:
            if tried.candidate.bags is None or made.loss.smaller or one.draw is None:
                continue
            litre = one.order.volume_ml == 1000 and 1000 in one.draw.fluid.pack_sizes_ml
            if litre:
                assert tried.candidate.bags.bags == 1


@QUICK
@given(rehearsals())
def test_use_is_the_sum_of_the_beds_and_turning_moves_it_whole(
    drawn: tuple[Rehearsal[str], Unit[str], Means],
) -> None:
    made, unit, _ = drawn
    total = sum(use.ml_day for use in unit.use.values())
    by_bed = sum(draw.ml_day or 0.0 for _, _, draws in unit.beds for draw in draws)
    assert total == pytest.approx(by_bed)
    turned = sum(one.extra_ml_day for one in made.turned)
    switching = sum(
        one.draw.ml_day or 0.0
        for one in made.orders
        if one.draw is not None
        and one.offers.first is not None
        and one.offers.first.candidate.concentrate is None
    )
    assert turned == pytest.approx(switching)


@QUICK
@given(units())
def test_losing_what_nobody_uses_changes_nothing(reviews: tuple[tuple[str, Review], ...]) -> None:
    means = Means(KNOWN.catalogue, KNOWN.ruleset)
    unit = Unit.of(reviews, means, KNOWN.vehicles)
    meant = {f.id for _, r in reviews for o in r.case.orders for f in o.candidates}
    unused = [key for key in IDS if key not in unit.use and key not in meant]
    made = rehearse(unit, Loss(dict.fromkeys(unused, frozenset()), NOW), means)
    assert made.orders == made.drugs == made.turned == made.kept == ()
    assert all(one.use.ml_day == 0 for one in made.lasting)


@QUICK
@given(
    st.dictionaries(
        st.sampled_from(["lost", "add", "share", "from", "days", "shelf", "smaller", "here", "x"]),
        st.lists(st.text(max_size=40), max_size=3),
    )
)
def test_whatever_an_address_says_is_read_or_told(given_: dict[str, list[str]]) -> None:
    asked = read_asked(given_, KNOWN.catalogue, NOW)
    assert asked.loss is None or not asked.faults
    for fault in asked.faults:
        assert fault.accepted


@QUICK
@given(st.floats(0.01, 1), st.floats(0.01, 1), st.integers(0, 500))
def test_the_more_is_lost_the_sooner_it_is_used_up(one: float, other: float, bags: int) -> None:
    saline = KNOWN.catalogue.get("sodium-chloride-0.9")
    assert saline is not None
    order = {"id": "o1", "fluid": saline.name, "volume_ml": 1000, "rate_ml_h": 75,
             "purpose": "maintenance"}  # fmt: skip
    request = {"patient": {"age_years": 40, "weight_kg": 70}, "orders": [order]}
    counts = Counts.of([BagCount(saline.id, 1000, "ward", bags, NOW)])
    means = Means(KNOWN.catalogue, KNOWN.ruleset, counts=counts)
    unit = Unit.of([("p", review_request(request, KNOWN, now=NOW))], means, KNOWN.vehicles)
    less, more = sorted((one, other))
    days = [
        rehearse(unit, Loss({saline.id: frozenset()}, NOW, share), means).lasting[0].days
        for share in (less, more)
    ]
    assert days[0] is not None and days[1] is not None
    assert days[0] >= days[1] - TINY
