from datetime import UTC, datetime, timedelta

from sqlalchemy import Engine

from app.catalogue.changes.versions import FluidVersion
from app.storage.changes.versions import (
    add_version,
    newest_hashes,
    read_newest,
    read_versions,
    sha256_of,
)
from app.storage.database import reading, transaction

NOW = datetime(2026, 2, 1, tzinfo=UTC)


def test_every_version_is_kept_and_the_newest_is_found(engine: Engine) -> None:
    later = NOW + timedelta(days=1)
    with transaction(engine) as session:
        add_version(session, "a", {"id": "a", "name": "one"}, at=NOW, release="1")
        add_version(session, "a", {"id": "a", "name": "two"}, at=later, release="2")
        add_version(session, "b", {"id": "b"}, at=NOW, release="1")
        add_version(session, "b", None, at=later, release="2")
    with reading(engine) as session:
        versions = read_versions(session)
        assert read_newest(session, "a") == {"id": "a", "name": "two"}
        assert read_newest(session, "b") is None and read_newest(session, "c") is None
        assert newest_hashes(session) == {"a": sha256_of({"name": "two", "id": "a"})}
    assert versions[0] == FluidVersion("a", {"id": "a", "name": "one"}, NOW, "1", 1)
    assert versions[3] == FluidVersion("b", None, later, "2", 4)


def test_the_order_of_fields_is_no_part_of_a_document() -> None:
    assert sha256_of({"a": 1, "b": [2]}) == sha256_of({"b": [2], "a": 1}) != sha256_of({"a": 1})
