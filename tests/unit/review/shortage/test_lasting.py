"""How long what was counted lasts, and a second shortage."""

import math
from collections.abc import Callable
from dataclasses import replace

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.stock.counts import NOTHING_COUNTED
from app.review.shortage.draws import Draw
from app.review.shortage.lasting import days_of, lasting, turned_to, whole_bags
from app.review.shortage.loss import Loss
from tests.unit.review.shortage.conftest import RINGERS, SALINE, counted, fluid_of

Losing = Callable[..., Loss]


@pytest.fixture
def draw(catalogue: Catalogue) -> Callable[..., Draw]:
    """draw(fluid id, size, mL a day, bags a day)."""

    def made(key: str, size: float, ml_day: float | None, bags: float | None) -> Draw:
        return Draw("order", "o1", fluid_of(catalogue, key), ml_day, size, bags)

    return made


def test_days_are_what_is_counted_over_what_is_used(
    draw: Callable[..., Draw], losing: Losing, catalogue: Catalogue
) -> None:
    draws = [draw(SALINE, 1000, 2000, 2), draw(SALINE, 500, 500, 1), draw(RINGERS, 1000, 900, 1)]
    counts = counted((SALINE, 1000, 10), (SALINE, 500, 5), (RINGERS, 1000, 99))
    (left,) = lasting(losing(SALINE), draws, counts, [fluid_of(catalogue, SALINE)])
    assert left.counted_l == pytest.approx(12.5)
    assert left.days == pytest.approx(5)
    assert left.days_of_size == pytest.approx({1000: 5, 500: 5})
    assert left.not_counted == (250,)


def test_of_one_size_lost_only_that_size_is_used_and_counted(
    draw: Callable[..., Draw], losing: Losing, catalogue: Catalogue
) -> None:
    draws = [draw(SALINE, 1000, 2000, 2), draw(SALINE, 500, 500, 1)]
    counts = counted((SALINE, 1000, 10), (SALINE, 500, 500))
    (left,) = lasting(losing(f"{SALINE}@1000"), draws, counts, [fluid_of(catalogue, SALINE)])
    assert (left.counted_l, left.days, left.sizes) == (10, 5, (1000,))


def test_a_part_of_deliveries_lost_lasts_longer_and_a_recall_less(
    draw: Callable[..., Draw], losing: Losing, catalogue: Catalogue
) -> None:
    draws, fluids = [draw(SALINE, 1000, 1000, 1)], [fluid_of(catalogue, SALINE)]
    counts = counted((SALINE, 1000, 12))

    def days(**how: float | bool) -> float | None:
        return lasting(losing(SALINE, **how), draws, counts, fluids)[0].days

    assert days() == pytest.approx(12)
    assert days(share=0.6) == pytest.approx(20)
    assert days(share=0.6, shelf_too=True) == pytest.approx(8)
    assert days(shelf_too=True) == 0


def test_what_nobody_counted_lasts_nobody_knows_how_long(
    draw: Callable[..., Draw], losing: Losing, catalogue: Catalogue
) -> None:
    (left,) = lasting(
        losing(SALINE), [draw(SALINE, 1000, 1000, 1)], NOTHING_COUNTED,
        [fluid_of(catalogue, SALINE)],
    )  # fmt: skip
    assert left.counted_l is None
    assert left.days is None
    assert left.days_of_size == {1000: None}


def test_a_fluid_without_orders_lasts_without_end(losing: Losing, catalogue: Catalogue) -> None:
    (left,) = lasting(losing("mannitol-20"), [], NOTHING_COUNTED,
                      [fluid_of(catalogue, "mannitol-20")])  # fmt: skip
    assert left.days == math.inf
    assert left.use.ml_day == 0
    assert left.bags_for(7) == {}


def test_days_of_nothing_counted_are_none_left_not_unknown() -> None:
    assert days_of(0.0, 1000) == 0
    assert days_of(None, 1000) is None
    assert days_of(None, 0) == math.inf


def test_bags_for_some_days_are_whole() -> None:
    assert whole_bags({1000: 2.8, 500: 1.0}, 7) == {1000: 20, 500: 7}
    assert whole_bags({1000: 0.1 * 3}, 10) == {1000: 3}


def test_a_substitute_lasts_by_what_is_taken_besides_its_own_use(
    draw: Callable[..., Draw],
) -> None:
    now = [draw(RINGERS, 1000, 3000, 3)]
    switched = [draw(RINGERS, 1000, 2000, 2), draw(RINGERS, 1000, 1000, 1)]
    (turned,) = turned_to(switched, now, counted((RINGERS, 1000, 12)))
    assert (turned.orders, turned.extra_ml_day, turned.now_ml_day) == (2, 3000, 3000)
    assert turned.days == pytest.approx(4)
    assert turned.days_alone == pytest.approx(2)
    assert turned.is_short_within(7)
    assert not turned.is_short_within(4)


def test_a_substitute_nobody_counted_is_not_called_short(draw: Callable[..., Draw]) -> None:
    (turned,) = turned_to([draw(RINGERS, 1000, 2000, 2)], [], NOTHING_COUNTED)
    assert turned.days is None
    assert not turned.is_short_within(90)


def test_a_switch_whose_amount_is_not_known_makes_the_sum_a_lower_bound(
    draw: Callable[..., Draw],
) -> None:
    unknown = replace(draw(RINGERS, 1000, 1000, 1), ml_day=None, bags_day=None)
    (turned,) = turned_to([unknown, draw(RINGERS, 1000, 1000, 1)], [], NOTHING_COUNTED)
    assert (turned.orders, turned.extra_ml_day) == (2, 1000)
