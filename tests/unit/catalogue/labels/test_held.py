"""What came of holding a label against an entry."""

import pytest

from app.catalogue.labels.held import volume_of
from app.catalogue.labels.reading import read_label


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("sodium 154 mmol/L", "/L"), ("sodium 154 mmol per 1000 mL", "/L"),
        ("sodium 77 mmol in 500 mL", " in 500 mL"), ("sodium chloride 0.9%", " in 100 mL"),
    ],
)  # fmt: skip
def test_in_how_much_a_figure_is_stands_as_the_label_has_it(text: str, told: str) -> None:
    (figure,) = read_label(text).figures
    assert volume_of(figure) == told
