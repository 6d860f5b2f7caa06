"""What cannot be read is told by field, value and what is accepted."""

from app.intake.errors import InputError, InputErrors


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
