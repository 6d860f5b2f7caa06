"""What a bag holds, per litre and in this bag, side by side."""

from collections.abc import Callable

from app.review.assess import Review
from app.web.advice.bag import BagView, bag_view

Reviewed = Callable[..., Review]


def bag(reviewed: Reviewed, **order: object) -> BagView:
    return bag_view(reviewed({}, order).case.orders[0])


def row(view: BagView, name: str) -> tuple[str, str, str]:
    one = next(row for row in view.rows if row.name == name)
    return str(one.per_litre), str(one.in_bag), str(one.each_hour)


def test_a_half_litre_bag_holds_half_of_what_a_litre_does(reviewed: Reviewed) -> None:
    view = bag(reviewed, fluid="0.9% sodium chloride", volume_ml=500, rate_ml_h=100)
    assert row(view, "Sodium") == ("154", "77", "15.4")


def test_added_potassium_is_counted_in(reviewed: Reviewed) -> None:
    kcl = {"substance": "potassium chloride", "amount": 20, "unit": "mmol"}
    view = bag(
        reviewed, fluid="0.9% sodium chloride", volume_ml=500, rate_ml_h=100, additives=[kcl]
    )
    assert row(view, "Potassium") == ("40", "20", "4")
    assert view.absent == "calcium or magnesium"


def test_without_volume_or_rate_the_bag_and_the_hour_are_not_known(reviewed: Reviewed) -> None:
    assert row(bag(reviewed, fluid="0.9% sodium chloride"), "Sodium") == (
        "154",
        "not known",
        "not known",
    )


def test_glucose_is_told_in_grams(reviewed: Reviewed) -> None:
    view = bag(reviewed, fluid="5% glucose", volume_ml=1000, rate_ml_h=100)
    assert row(view, "Glucose")[:2] == ("50", "50")


def test_a_fluid_that_is_not_understood_shows_no_figures(reviewed: Reviewed) -> None:
    view = bag(reviewed, fluid="moon dust", volume_ml=1000)
    assert not view.rows
    assert "nothing is known of the bag" in view.why


def test_an_ambiguous_name_shows_what_it_may_mean(reviewed: Reviewed) -> None:
    view = bag(reviewed, fluid="dextrose saline", volume_ml=1000)
    assert not view.rows
    assert " or " in view.why


def test_an_additive_that_cannot_be_read_leaves_the_bag_unknown(reviewed: Reviewed) -> None:
    odd = {"substance": "stardust", "amount": 5, "unit": "mmol"}
    view = bag(reviewed, fluid="0.9% sodium chloride", volume_ml=1000, additives=[odd])
    assert not view.rows
    assert "tardust" in view.why
