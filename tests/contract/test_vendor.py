"""Files of others are exact copies, each with its licence, version and reason."""

import hashlib
import tomllib
from pathlib import Path

import pytest

VENDOR = Path(__file__).resolve().parents[2] / "static" / "vendor"
ENTRIES = tomllib.loads((VENDOR / "vendor.toml").read_text(encoding="utf-8"))["file"]


def test_every_file_has_its_entry_and_every_entry_its_file() -> None:
    files = {path.name for path in VENDOR.iterdir()} - {"vendor.toml"}
    assert files == {entry["path"] for entry in ENTRIES}


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: str(entry["path"]))
def test_a_file_is_the_copy_it_says_it_is(entry: dict[str, str]) -> None:
    content = (VENDOR / entry["path"]).read_bytes()
    assert hashlib.sha256(content).hexdigest() == entry["sha256"]


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda entry: str(entry["path"]))
def test_an_entry_says_version_licence_origin_and_why(entry: dict[str, str]) -> None:
    assert set(entry) == {"path", "name", "version", "licence", "sha256", "from", "why"}
    assert all(entry.values())
    # The version in the name lets a browser keep the file for ever.
    assert entry["version"] in entry["path"]
