import pytest

from tests.unit.review.running.conftest import RunningIn


def test_insulin_by_the_hour_acts_without_any_water(running_in: RunningIn) -> None:
    running = running_in(infusions=("insulin 3 units/h",))
    (load,) = running.loads
    assert (load.volume_l, load.insulin_units) == (0, pytest.approx(72))
    assert running.words == (
        "Insulin 3 units/h: 3 units/h throughout, what carries it is not counted",
    )


def test_a_syringe_of_insulin_brings_what_it_is_in(running_in: RunningIn) -> None:
    words = ("insulin 50 units in 50 mL 0.9% sodium chloride at 3 mL/h",)
    (load,) = running_in(infusions=words, hours=4).loads
    assert load.insulin_units == pytest.approx(12)
    assert load.volume_l == pytest.approx(0.012)
    assert load.composition.sodium_mmol_l == 154


def test_insulin_by_the_kilogram_takes_the_weight(running_in: RunningIn) -> None:
    (load,) = running_in(infusions=("insulin 0.1 units/kg/h",), hours=1).loads
    assert load.insulin_units == pytest.approx(7)


@pytest.mark.parametrize(
    ("words", "why"),
    [
        ("insulin by sliding scale", "only with its rate"),
        ("insulin glargine 20 units at night", "Only soluble insulin"),
        ("insulin 5000 units/h", "more than anybody is given"),
    ],
)
def test_insulin_that_cannot_be_reckoned_says_why(
    running_in: RunningIn, words: str, why: str
) -> None:
    running = running_in(infusions=(words,))
    assert not running.loads
    assert why in running.not_counted[0] and not running.not_counted[0].endswith("reckoned.")


def test_insulin_in_a_bag_runs_with_it(running_in: RunningIn) -> None:
    bag = {
        "fluid": "10% glucose", "volume_ml": 500, "rate_ml_h": 50, "duration_h": 10,
        "purpose": "replacement",
        "additives": [{"substance": "insulin", "amount": 10, "unit": "units"}],
    }  # fmt: skip
    (load,) = running_in(bag, hours=4).loads
    assert load.insulin_units == pytest.approx(4)
