"""An infusion over time: nothing is lost on the way."""

import pytest

from app.physiology.formulas.kinetics import BY_DILUTION, BY_RATE_CONSTANTS, RATES


@pytest.mark.parametrize(("at_min", "given"), [(15, 500), (30, 1000), (300, 1000)])
def test_plasma_tissue_and_urine_add_up_to_what_was_given(at_min: float, given: float) -> None:
    parts = [part.work(at_min=at_min, **RATES) for part in BY_RATE_CONSTANTS.parts]
    assert sum(parts) == pytest.approx(given)


def test_with_no_trade_and_no_loss_all_stays_in_the_first_space() -> None:
    (part,) = BY_DILUTION.parts
    kept = part.work(volume_ml=500, minutes=20, at_min=60, v1_ml=5900, v2_ml=9100, kr=0, kt=0, kb=0)
    assert kept == pytest.approx(500)
