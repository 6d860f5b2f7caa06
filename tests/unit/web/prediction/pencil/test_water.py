"""Where a bag goes by the textbook, and where the curve has it."""

from collections.abc import Callable

import pytest

from app.physiology.course.loads import Loss
from app.web.prediction.pencil.rows import HandRow
from app.web.prediction.pencil.tried import Tried
from app.web.prediction.pencil.water import holds_colloid, water_rows

Try = Callable[..., Tried]


def rows(*tried: Tried) -> dict[str, HandRow]:
    return {row.formula_id: row for row in water_rows(tried)}


def test_sugar_water_is_all_free_water_two_thirds_of_it_in_cells(tried: Try) -> None:
    found = rows(tried("dextrose-5"))
    free = found["electrolyte-free-water"].cells[0].by_hand
    assert free == ("1,000 mL, simple form", "1,000 mL, by Edelman's line")
    split = found["compartments"].cells[0].by_hand
    assert split == ("plasma +83 mL", "interstitium +250 mL", "cells +667 mL")


def test_the_curve_accounts_for_the_litre_where_nothing_is_passed(tried: Try) -> None:
    cell = rows(tried("lactated-ringers", losses=(Loss("urine", 0),)))["compartments"].cells[0]
    spaces = [float(line.split()[1].replace("−", "-")) for line in cell.curve[-1]]
    assert sum(spaces) == pytest.approx(1000, abs=2)


def test_a_colloid_is_left_in_plasma_by_the_textbook(tried: Try) -> None:
    one = tried("albumin-5", volume_ml=500)
    assert holds_colloid(one.mix)
    cell = rows(one)["compartments"].cells[0]
    assert cell.by_hand == ("plasma +500 mL", "interstitium no change", "cells no change")
