"""Tables of errors: held out apart from what set the model, and to which side it errs."""

from dataclasses import replace

from app.review.trials.score import Point
from app.web.proof.trial_errors import dose_views, quantity_views
from tests.unit.review.trials.test_errors import POINT

HELD = replace(POINT, row="b:NS@60", arm="b:NS", held_out=True, predicted=4.0, low=1.0, high=5.0)


def test_what_was_held_out_stands_apart() -> None:
    (sodium,) = quantity_views([POINT, HELD])
    assert (sodium.name, sodium.unit, sodium.bar) == ("Sodium", "mmol/L", "1.5")
    assert (sodium.held_out.off, sodium.tuned.off) == ("2", "0.5")
    assert (sodium.held_out.over, sodium.tuned.over) == (True, False)
    assert (sodium.held_out.groups, sodium.held_out.still) == ("1 group", "2")


def test_where_no_row_is_none_is_said() -> None:
    (sodium,) = quantity_views([POINT])
    assert sodium.held_out.off == "none"
    assert sodium.held_out.groups == sodium.held_out.side == ""
    assert not sodium.held_out.over
    (osmolality,) = quantity_views([replace(POINT, quantity="osmolality_mosm_kg", predicted=99.0)])
    assert osmolality.bar == "not set"
    assert not osmolality.tuned.over


def side(*predicted: float) -> str:
    points = [replace(POINT, row=f"{at}", predicted=value) for at, value in enumerate(predicted)]
    (view,) = quantity_views(points)
    return view.tuned.side


def test_the_side_is_the_mean_with_its_sign() -> None:
    assert side(3.0, 4.0) == "1.5 too high"
    assert side(1.0, 0.0) == "1.5 too low"
    assert side(1.0, 3.01) == "neither"
    assert side(3.0) == ""


def test_how_often_it_lay_in_the_band_is_said_where_there_is_one() -> None:
    outside = replace(HELD, row="c:NS@60", measured=6.0)
    (sodium,) = quantity_views([POINT, HELD, outside])
    assert sodium.held_out.inside == "50%"
    assert sodium.tuned.inside == ""


def test_a_fluid_and_dose_has_all_its_quantities_together() -> None:
    points: list[Point] = [
        HELD,
        POINT,
        replace(POINT, kind="mannitol", band=0),
        replace(POINT, quantity="ph"),
        replace(POINT, band=2),
    ]
    views = list(dose_views(points))
    assert [(view.fluid, view.dose) for view in views] == [
        ("0.9% sodium chloride", "15 to 40 mL/kg"),
        ("0.9% sodium chloride", "40 to 80 mL/kg"),
        ("Mannitol", "up to 1 g/kg"),
    ]
    assert [row.quantity for row in views[0].rows] == ["sodium", "pH"]
    assert views[0].rows[0].error.groups == "2 groups, 1 held out"
    assert views[1].rows[0].error.groups == "1 group"


def test_a_dose_known_only_from_rows_held_out_says_all() -> None:
    (view,) = dose_views([HELD])
    assert view.rows[0].error.groups == "1 group, all held out"
