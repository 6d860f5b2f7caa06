"""What cannot be read is told by field, value and what is accepted."""

import pytest

from app.intake.errors import InputError, InputErrors, too_much


def test_an_error_names_field_value_and_what_is_accepted() -> None:
    error = InputError("orders[0].rate_ml_h", "12o", "a number above 0, in mL/h")
    assert str(error) == (
        "orders[0].rate_ml_h: '12o' is not accepted; accepted: a number above 0, in mL/h"
    )


def test_several_errors_are_told_in_the_order_met() -> None:
    first, second = InputError("a", 1, "x"), InputError("b", 2, "y")
    assert str(InputErrors((first, second))).index("a:") < str(InputErrors((first, second))).index(
        "b:"
    )


@pytest.mark.parametrize(
    ("name", "value", "told"),
    [
        ("fluid", "x" * 2001, ("2,001 characters", "at most 2,000 characters")),
        ("orders", [{}] * 201, ("201 entries", "at most 200 entries")),
        ("observations", [{}] * 1001, ("1,001 entries", "at most 1,000 entries")),
    ],
)
def test_more_than_can_be_read_is_told_by_its_size(
    name: str, value: object, told: tuple[str, str]
) -> None:
    assert too_much(name, value) == told


@pytest.mark.parametrize("value", ["x" * 2000, [{}] * 60, {"a": 1}, 10**400, None])
def test_what_can_be_read_is_not_too_much(value: object) -> None:
    assert too_much("orders", value) is None
