"""Which way a bag pushes plasma's base, by the rule and by the curve."""

from collections.abc import Callable

import pytest

from app.web.prediction.pencil.acid_base import acid_base_rows
from app.web.prediction.pencil.rows import HandRow
from app.web.prediction.pencil.tried import Tried

Try = Callable[..., Tried]


def rows(*tried: Tried) -> dict[str, HandRow]:
    return {row.formula_id: row for row in acid_base_rows(tried)}


@pytest.mark.parametrize(
    ("fluid", "by_hand"),
    [
        ("sodium-chloride-0.9", ("0 mEq/L", "pushes down")),
        ("sodium-bicarbonate-8.4", ("1,000 mEq/L", "pushes up")),
    ],
)
def test_the_direction_follows_from_the_strong_ion_difference(
    tried: Try, fluid: str, by_hand: tuple[str, str]
) -> None:
    found = rows(tried(fluid))["strong-ion-difference"]
    assert found.cells[0].by_hand == by_hand
    assert "The curve agrees." in found.why


def test_saline_mixed_in_lowers_bicarbonate_more_than_the_curve_says(tried: Try) -> None:
    cell = rows(tried("sodium-chloride-0.9"))["weak-acids"].cells[0]
    by_hand, curve = (
        float(text.split()[1].replace("−", "-")) for text in (cell.by_hand[0], cell.curve[0][0])
    )
    assert by_hand < curve < 0
    assert cell.by_hand[1].startswith("pH 7.")


def test_without_chloride_on_the_label_nothing_is_computed(tried: Try) -> None:
    found = rows(tried("albumin-5"))
    for row in found.values():
        assert row.cells[0].by_hand == ("not computed: no chloride on the label",)
    assert "no direction can be told" in found["strong-ion-difference"].why


def test_a_bag_near_the_patients_own_bicarbonate_is_said_to_push_hardly(tried: Try) -> None:
    found = rows(tried("lactated-ringers"))["strong-ion-difference"]
    assert found.cells[0].by_hand == ("27.7 mEq/L", "pushes hardly either way")


def test_a_curve_that_goes_another_way_says_why(tried: Try) -> None:
    slow = tried("multiple-electrolytes-type-1-ph-7.4", volume_ml=1500, minutes=20)
    found = rows(slow)["strong-ion-difference"]
    assert found.cells[0].by_hand == ("50 mEq/L", "pushes up")
    why = found.why
    assert "The curve goes" in why
    assert "buffers take time" in why
