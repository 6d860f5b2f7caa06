"""Changes are told with their sign, and two bags that say the same say it once."""

from collections.abc import Callable

from app.web.prediction.pencil.rows import cells_of, change_text, said_of
from app.web.prediction.pencil.tried import Tried

Try = Callable[..., Tried]


def test_a_change_has_its_sign() -> None:
    assert change_text(1.25, "mmol/L") == "+1.2 mmol/L"
    assert change_text(-0.5, "mmol/L") == "−0.5 mmol/L"
    assert change_text(0.04, "mmol/L") == "no change"


def test_what_two_bags_have_in_common_is_said_once(tried: Try) -> None:
    one = tried("sodium-chloride-0.9")
    assert said_of([one], lambda t: f"{t.bag.volume_l:g}") == "1"
    both = [one, tried("dextrose-5", volume_ml=500)]
    assert said_of(both[:1] * 2, lambda _: "same") == "same"


def test_a_cell_has_the_curve_at_each_moment(tried: Try) -> None:
    (cell,) = cells_of([tried("dextrose-5")], lambda _: ("x",), lambda _, m: (f"{m:g}",))
    assert cell.by_hand == ("x",)
    assert cell.curve == (("240",), ("720",))
