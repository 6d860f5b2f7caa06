"""The stories' file."""

from pathlib import Path

import pytest

from app.intake.errors import InputError
from app.storage.past.stories import FILE, read_stories


def test_every_story_has_orders_and_a_place() -> None:
    stories = read_stories()
    assert stories.days == 30
    for story in stories.stories:
        assert story["order"], story["name"]
        assert sum(story["settings"].values()) > 0
        assert "weight_kg" in story or story["age_years"][1] < 16


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("urine_ml_kg_h =", "urine =", "kidneys that fail.urine"),
        ("rate_text =", "rate_words =", r"order\[6\].rate_words"),
    ],
)
def test_a_field_nobody_reads_is_refused_by_name(
    tmp_path: Path, old: str, new: str, told: str
) -> None:
    wrong = tmp_path / "past.toml"
    wrong.write_text(FILE.read_text(encoding="utf-8").replace(old, new), encoding="utf-8")
    with pytest.raises(InputError, match=told):
        read_stories(wrong)
