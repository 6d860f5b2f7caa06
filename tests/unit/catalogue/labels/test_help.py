"""What the help shows is what is read."""

import pytest

from app.catalogue.labels.help import UNITS_READ, WORDINGS, Wording, names_read
from app.catalogue.labels.reading import read_label
from app.catalogue.labels.words import NAMES, UNITS


@pytest.mark.parametrize("wording", WORDINGS, ids=lambda wording: wording.what)
def test_every_wording_shown_is_read_whole(wording: Wording) -> None:
    label = read_label(wording.example)
    assert label.figures
    assert label.unread == ()
    assert all(figure.basis_told for figure in label.figures)


def test_every_name_and_every_unit_is_shown() -> None:
    assert {name for one in names_read() for name in one.names} == set(NAMES)
    assert sorted(unit.casefold() for unit in UNITS_READ) == sorted(UNITS)


def test_a_name_shown_is_read_beside_a_number() -> None:
    for name, (kind, key) in NAMES.items():
        unit = {"ion": "mmol/L", "salt": "g/L", "mass": "g/L", "unclear": "g/L"}.get(kind, "")
        unit = unit or {"ph": "", "energy": "kcal/L"}.get(key, "mOsm/L")
        (figure,) = read_label(f"{name} 5 {unit}").figures
        assert (figure.name_kind, figure.key, figure.number) == (kind, key, "5")
