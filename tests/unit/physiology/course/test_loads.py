"""What runs in."""

import pytest

from app.chemistry.composition import Composition
from app.physiology.course.loads import Load, chloride_of


def test_a_load_runs_evenly_within_its_time() -> None:
    load = Load(Composition(), 1.0, 30, 60)
    assert load.litres_between(0, 30) == 0
    assert load.litres_between(30, 60) == pytest.approx(0.5)
    assert load.litres_between(0, 500) == pytest.approx(1.0)


def test_a_chloride_the_label_does_not_give_balances_the_charges() -> None:
    albumin = Composition(sodium_mmol_l=145, chloride_mmol_l=None)
    assert chloride_of(albumin) == 145
