"""Where a figure comes from."""

from app.catalogue.source import NO_SOURCE, Source


def test_a_source_counts_as_remembered_until_said_to_be_seen() -> None:
    assert not Source("a label").seen


def test_what_has_no_source_says_so_in_words() -> None:
    assert NO_SOURCE == "common practice, no source"
