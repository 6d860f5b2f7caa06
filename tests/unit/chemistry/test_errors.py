"""What is said when a quantity cannot be read."""

from app.chemistry.errors import UnitError


def test_the_message_says_what_was_given_and_what_is_accepted() -> None:
    assert str(UnitError("sodium", "mg", "mmol/L")) == (
        "sodium: mg is not accepted; accepted: mmol/L"
    )
