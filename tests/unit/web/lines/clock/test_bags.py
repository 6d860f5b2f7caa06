"""When bags run out, and what is asked before they do."""

from app.lines.model import Run
from app.web.lines.clock.bags import bag_ends_min, end_words, ends_unasked, needs_glucose, next_bags
from tests.unit.web.lines.conftest import BedOf, PlanOf

ALL = (Run(0, 720),)


def test_a_litre_at_62_ml_h_since_eight_in_the_evening_is_empty_at_eight_past_noon(
    bed_of: BedOf, plan_of: PlanOf
) -> None:
    case = bed_of("23").review.case
    # 1,000 / 62 is 16 h 7.7 min from 20:00, and now is 07:05.
    assert bag_ends_min(case.orders[0], case, ALL) == (302,)
    ((at_min, placed, item),) = next_bags(plan_of("23"), case)
    assert (at_min, placed.lumen_id, item.id) == (302, "left hand", "o1")


def test_what_stands_still_lasts_longer(bed_of: BedOf) -> None:
    case = bed_of("23").review.case
    assert bag_ends_min(case.orders[0], case, (Run(0, 100), Run(160, 720))) == (362,)
    assert bag_ends_min(case.orders[0], case, (Run(0, 302),)) == ()


def test_a_bag_of_which_nobody_wrote_the_start_says_nothing(bed_of: BedOf) -> None:
    case = bed_of("25").review.case
    order = case.orders[0]
    unknown = type(order)(order.id, order.written, order.fluid, volume_ml=1000, rate_ml_h=80)
    assert bag_ends_min(unknown, case, ALL) == ()


def test_fluids_that_end_are_asked_about_and_a_bolus_is_not(plan_of: PlanOf) -> None:
    assert [(end, item.id) for end, item in ends_unasked(plan_of("03"))] == [
        (247, "o1"), (673, "o2"),
    ]  # fmt: skip
    assert list(ends_unasked(plan_of("11"))) == []


def test_beside_insulin_the_end_of_a_bag_is_pressing(plan_of: PlanOf) -> None:
    made = plan_of("03")
    assert needs_glucose(made)
    assert not needs_glucose(plan_of("25"))
    saline, glucose = (made.bedside.item(name) for name in ("o1", "o2"))
    assert end_words(glucose, insulin=True, hour="18:18") == (
        "Insulin must not run on when 10% glucose ends at 18:18: ask for glucose before."
    )
    assert end_words(saline, insulin=True, hour="11:12").startswith("Insulin runs on when 0.9%")
    assert end_words(glucose, insulin=False, hour="18:18") == (
        "10% glucose ends at 18:18: ask what follows before then."
    )
