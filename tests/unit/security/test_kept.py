"""What was typed is carried by the browser, and read by this server alone."""

from datetime import UTC, datetime, timedelta

import pytest

from app.security.kept import (
    GOOD_FOR,
    LONGEST_TYPED,
    Kept,
    TooMuchTyped,
    seal,
    unseal,
    worth_keeping,
)

NOW = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)
KEPT = Kept("a-1", "Ines Vale", "/catalogue/dextrose-5/stock", (("note", "lorry late"),))
SECRET = "sixteen letters and more"


def test_nothing_of_it_can_be_read_in_the_page_that_carries_it() -> None:
    sealed = seal(KEPT, SECRET, NOW)
    assert "lorry" not in sealed
    assert "Ines" not in sealed
    assert unseal(sealed, SECRET, NOW) == KEPT


def test_it_is_good_for_a_day_and_nowhere_else() -> None:
    sealed = seal(KEPT, SECRET, NOW)
    assert unseal(sealed, SECRET, NOW + GOOD_FOR - timedelta(seconds=1)) == KEPT
    assert unseal(sealed, SECRET, NOW + GOOD_FOR + timedelta(seconds=1)) is None
    assert unseal(sealed, SECRET + "x", NOW) is None


@pytest.mark.parametrize("sealed", ["", "x", "gAAAA", "\u00e9", "A" * 200])
def test_what_is_not_ours_is_nothing(sealed: str) -> None:
    assert unseal(sealed, SECRET, NOW) is None


def test_passwords_and_blanks_are_never_kept() -> None:
    typed = [
        ("note", "x"), ("password", "p"), ("New_Password_again", "p"), ("api_key", "k"),
        ("token", "t"), ("blank", ""), ("note", "y"),
    ]  # fmt: skip
    assert worth_keeping(typed) == (("note", "x"), ("note", "y"))


def test_more_than_a_page_can_carry_is_said_and_not_cut() -> None:
    fits = [("n", "x" * (LONGEST_TYPED - 1))]
    assert worth_keeping(fits)
    with pytest.raises(TooMuchTyped):
        worth_keeping([*fits, ("m", "y")])
