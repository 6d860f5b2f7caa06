"""How often, and how much of it."""

from app.patient.schedule import Schedule


def test_a_dose_for_each_kilogram_needs_the_weight() -> None:
    dose = Schedule(dose_g=0.05, per_kg=True)
    assert dose.grams(20) == 1
    assert dose.grams(None) is None


def test_a_plain_dose_needs_no_weight() -> None:
    assert Schedule(dose_g=4.5).grams(None) == 4.5


def test_what_is_not_written_is_not_known() -> None:
    assert Schedule().grams(70) is None
