"""The stories that the demo's past orders are made from: read, and refused where they are wrong."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from app.intake.errors import InputError
from app.storage.demo_files import DEMO
from app.storage.seed_files import read_toml

FILE: Final = DEMO / "past.toml"
STORY_FIELDS: Final = frozenset(
    {
        "name", "share", "settings", "age_years", "weight_kg", "conditions", "either", "also",
        "medications", "urine_ml_kg_h", "results", "beside", "beside_kind", "order",
    }
)  # fmt: skip
ORDER_FIELDS: Final = frozenset(
    {
        "share", "fluid", "volume_ml", "volume_ml_kg", "rate_ml_h", "rate_ml_kg_h", "rate_text",
        "additive", "purpose", "text", "upkeep",
    }
)  # fmt: skip

Story = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Stories:
    """All stories, how many days and requests, and the seed that everything is drawn by."""

    seed: str
    days: int
    requests_a_day: int
    missing: float
    earlier: float
    usual_results: Mapping[str, Any]
    stories: tuple[Story, ...]


def read_stories(path: Path = FILE) -> Stories:
    """The file. Raises InputError naming story and field, ValueError for bad TOML."""
    document = read_toml(path)
    stories = tuple(document["story"])
    for story in stories:
        _only(story, STORY_FIELDS, story.get("name", "story"))
        for number, order in enumerate(story["order"]):
            _only(order, ORDER_FIELDS, f"{story['name']}, order[{number}]")
    return Stories(
        document["seed"],
        document["days"],
        document["requests_a_day"],
        document["missing"],
        document["earlier"],
        document["usual_results"],
        stories,
    )


def _only(table: Mapping[str, Any], allowed: frozenset[str], where: str) -> None:
    for key in table:
        if key not in allowed:
            raise InputError(f"{where}.{key}", table[key], f"only {', '.join(sorted(allowed))}")
