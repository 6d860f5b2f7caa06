"""Every worked example of every formula written out: papers', labels' and those worked for us.

Half a percent for arithmetic and 0.005 for pH, unless a figure was printed with fewer digits.
"""

import pytest

from app.physiology.formulas.formula import ARITHMETIC, PH, Example, Part
from app.physiology.formulas.table import FORMULAS

CASES = [
    pytest.param(part, one, id=f"{formula.id} {part.name} {number}")
    for formula in FORMULAS
    for part in formula.parts
    for number, one in enumerate(part.examples)
]


@pytest.mark.parametrize(("part", "one"), CASES)
def test_the_program_makes_the_figure_that_is_stated(part: Part, one: Example) -> None:
    value = part.value(one)
    assert one.agrees(value), f"{value:.6g} and not {one.expected:g}"


@pytest.mark.parametrize(("part", "one"), CASES)
def test_room_for_rounding_is_no_more_than_the_digits_printed(part: Part, one: Example) -> None:
    """A figure printed to a tenth may be off by half of one, as one printed whole by half."""
    del part
    if one.within is None or not one.expected:
        return
    decimals = len(f"{one.expected:g}".partition(".")[2])
    printed = 0.61 * 10**-decimals
    assert one.within <= max(printed, PH, ARITHMETIC * abs(one.expected), 1 / 60)
