"""One place knows every table."""

from app.storage.all_tables import Base


def test_the_tables_of_the_first_release_are_known() -> None:
    assert {"fluid", "patient", "infusion_order"} <= set(Base.metadata.tables)
