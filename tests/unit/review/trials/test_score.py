"""The change predicted is held against the change measured, each in the same unit."""

from dataclasses import replace

import pytest

from app.chemistry.composition import Composition
from app.review.trials.fluids import TrialFluid
from app.review.trials.group import groups_of
from app.review.trials.rows import Comparison, Row, comparisons_of, row_from
from app.review.trials.score import Point, points_of, predicted
from tests.trials.files import read_trial_rows

ROWS = [row_from(table, held_out=held_out) for table, held_out in read_trial_rows()]
COMPARED = {one.row.id: one for one in comparisons_of(ROWS)}
SALINE = Composition(sodium_mmol_l=154, chloride_mmol_l=154)
FLUIDS = {name: TrialFluid(name, SALINE) for name in ("saline_0_9", "saline_7_5")}
LOBO = COMPARED["lobo2001:NS@60"]


def changed(one: Comparison, **row: object) -> dict[str, Point]:
    other: Row = replace(one.row, **row)  # type: ignore[arg-type]
    return {p.quantity: p for p in points_of([replace(one, row=other)], FLUIDS)}


def test_a_change_in_percent_is_counted_from_the_start_assumed() -> None:
    points = changed(LOBO, values={"hct_pct": -10.0})
    assert points["haematocrit"].measured == pytest.approx(-4.4)
    assert points["haematocrit"].predicted < 0
    assert points["haematocrit"].off == pytest.approx(points["haematocrit"].predicted + 4.4)


def test_millilitres_of_plasma_become_percent_of_the_start() -> None:
    by_ml = changed(LOBO, kind="change", values={"plasma_volume_change_ml": 294.0})
    assert by_ml["plasma_volume_ml"].measured == pytest.approx(10.0)
    both = {"plasma_volume_change_ml": 294.0, "plasma_volume_change_pct": 7.0}
    assert changed(LOBO, kind="change", values=both)["plasma_volume_ml"].measured == 7.0


def test_an_absolute_value_counts_against_the_arms_own_baseline() -> None:
    one = Comparison(LOBO.row, {"cl_mmol_l": 104.0})
    values = {"cl_mmol_l": 110.0, "na_mmol_l": 141.0}
    points = changed(one, kind="absolute", values=values)
    assert points["chloride_mmol_l"].measured == 6.0
    assert "sodium_mmol_l" not in points


def test_the_gas_is_read_at_the_carbon_dioxide_measured_then() -> None:
    (group,) = groups_of(LOBO, SALINE)
    same = predicted(group, 60.0, None).after
    kept = predicted(group, 60.0, group.subject.pco2_mmhg).after
    breathing_less = predicted(group, 60.0, 50.0).after
    assert kept["ph"] == pytest.approx(same["ph"], abs=1e-3)
    assert kept["base_excess_mmol_l"] == pytest.approx(same["base_excess_mmol_l"], abs=0.05)
    assert breathing_less["ph"] < same["ph"] - 0.05
    assert breathing_less["bicarbonate_mmol_l"] > same["bicarbonate_mmol_l"]


def test_a_time_between_steps_is_found() -> None:
    (group,) = groups_of(LOBO, SALINE)
    at_6, between, at_7 = (predicted(group, at, None).after for at in (6.0, 6.1, 7.0))
    assert at_7["haematocrit"] < between["haematocrit"] < at_6["haematocrit"]


def test_a_fluid_of_no_kind_is_refused() -> None:
    water = TrialFluid("water", Composition())
    with pytest.raises(ValueError, match="of no kind"):
        points_of([LOBO], {"saline_0_9": water})


def test_the_band_holds_the_middle_and_moves_with_the_gas() -> None:
    for point in points_of([LOBO], FLUIDS):
        assert point.low is not None and point.high is not None
        assert point.low < point.predicted < point.high
        assert point.inside is (point.low <= point.measured <= point.high)
    (group,) = groups_of(LOBO, SALINE)
    steady, less = (predicted(group, 60.0, pco2) for pco2 in (None, 50.0))
    wide = [side.high["ph"] - side.low["ph"] for side in (steady, less)]
    assert wide[1] == pytest.approx(wide[0])
    assert less.low["ph"] < less.after["ph"] < less.high["ph"]


def test_a_difference_takes_off_what_the_other_fluid_did() -> None:
    fluids = FLUIDS | {"other": FLUIDS["saline_0_9"]}
    values = {"cl_mmol_l": 1.0, "plasma_volume_change_pct": 2.0}
    row = replace(LOBO.row, kind="difference", against_fluid_id="other", values=values)
    same = {p.quantity: p for p in points_of([replace(LOBO, row=row)], fluids)}
    assert same["chloride_mmol_l"].predicted == pytest.approx(0, abs=1e-9)
    assert same["plasma_volume_ml"].predicted == pytest.approx(0, abs=1e-9)
    water = TrialFluid("dextrose", Composition(glucose_g_l=50))
    (chloride, _) = points_of([replace(LOBO, row=row)], FLUIDS | {"other": water})
    alone = changed(LOBO, kind="change", values=values)["chloride_mmol_l"]
    assert chloride.predicted > alone.predicted > 0
    assert (chloride.measured, chloride.against) == (1.0, "dextrose")
    assert not alone.against
