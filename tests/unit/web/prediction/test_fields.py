"""Every field is read, kept and bounded, and every tick stands for something the model or a rule
knows.
"""

from app.cautions.shared.sodium_limits import RISK_CONDITIONS
from app.physiology.course.body import subject_of
from app.web.prediction.fields import CHOICES, FIELDS, NAMES, OF_ONE_PATIENT, TICKS


def test_every_field_is_kept_as_typed_and_stands_once() -> None:
    assert len(NAMES) == len(set(NAMES))
    assert {*FIELDS, *CHOICES, *(tick.name for tick in TICKS), *OF_ONE_PATIENT} <= set(NAMES)


def test_what_is_accepted_can_be_said() -> None:
    for bounds in FIELDS.values():
        assert bounds.low < bounds.high
        assert f"{bounds.low:g} to" in bounds.accepted


def test_every_tick_changes_the_model_or_the_limit_of_a_day() -> None:
    healthy = subject_of(weight_kg=70, age_years=40, sex="male", height_cm=None, results={})
    for tick in TICKS:
        ill = subject_of(
            weight_kg=70, age_years=40, sex="male", height_cm=None, results={},
            conditions=frozenset(tick.conditions),
        )  # fmt: skip
        assert ill != healthy or set(tick.conditions) & set(RISK_CONDITIONS), tick.name
