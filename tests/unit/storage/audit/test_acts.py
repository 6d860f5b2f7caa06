"""Acts are recorded under short names that differ."""

from app.storage.audit import acts
from app.storage.tables import ID_LENGTH

NAMES = [value for name, value in vars(acts).items() if name.isupper()]


def test_every_name_fits_its_column_and_stands_once() -> None:
    assert len(NAMES) > 5
    assert len(set(NAMES)) == len(NAMES)
    assert all(0 < len(name) <= ID_LENGTH for name in NAMES)
