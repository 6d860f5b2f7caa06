"""One place knows every table."""

from app.storage.all_tables import Base


def test_tables_of_every_part_are_known() -> None:
    here = {"patient", "account", "trail_row", "fluid_version", "past_order", "lumen_told"}
    assert here <= set(Base.metadata.tables)
