"""When a computed figure is the one stated."""

from app.physiology.formulas.formula import Part, example


def test_half_a_percent_is_the_same_and_more_is_not() -> None:
    one = example(200)
    assert one.agrees(201)
    assert one.agrees(199)
    assert not one.agrees(201.1)


def test_a_figure_printed_with_fewer_digits_has_its_own_room() -> None:
    printed = example(16.7, within=0.05)
    assert printed.agrees(16.74)
    assert not printed.agrees(16.76)


def test_nothing_is_only_nothing() -> None:
    assert example(0).agrees(0)
    assert not example(0).agrees(0.001)


def test_a_part_works_an_example_by_its_inputs() -> None:
    part = Part("", "a − b", "", lambda *, a, b: a - b, (example(1, a=3, b=2),))
    assert part.value(part.examples[0]) == 1
