"""The state at rest."""

import pytest

from app.physiology.course.body import subject_of
from app.physiology.course.parameters import drawn
from app.physiology.course.state import base_outside, begin, mean_albumin, osmoles, strong

SUBJECT = subject_of(weight_kg=70, age_years=50, sex="male", height_cm=178, results={})


def test_the_charges_balance_from_the_start() -> None:
    state, start = begin(SUBJECT, drawn(5))
    assert strong(state) == pytest.approx(base_outside(state) + strong(state) - start.base)
    assert start.base == pytest.approx(SUBJECT.bicarbonate_mmol_l, abs=0.2)


def test_cells_and_what_is_outside_are_at_one_osmolality() -> None:
    state, start = begin(SUBJECT, drawn(5))
    assert state.cell_osmoles / (state.water - state.ecf) == pytest.approx(start.osmoles_l)
    assert osmoles(state) / state.ecf == pytest.approx(start.osmoles_l)


def test_albumin_outside_plasma_is_thinner() -> None:
    state, _ = begin(SUBJECT, drawn(5))
    assert (mean_albumin(state) < SUBJECT.albumin_g_l).all()
