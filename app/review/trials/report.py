"""The points as plain values for seed_data/predicted.toml, and back."""

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import Any, Final

from app.review.trials.score import Point

PLACES: Final = 4


@dataclass(frozen=True, slots=True)
class Report:
    """Every point, and the day and the model (a digest) it was made with."""

    day: str
    model: str
    points: tuple[Point, ...]


def document_of(report: Report) -> dict[str, Any]:
    """The report as plain values; figures rounded, what is not there left out."""
    points = [
        {key: _rounded(value) for key, value in asdict(point).items() if value not in (None, "")}
        for point in report.points
    ]
    return {"day": report.day, "model": report.model, "point": points}


def report_from(document: Mapping[str, Any]) -> Report:
    """The report of a parsed file. Raises KeyError or TypeError where a field is missing."""
    absent: dict[str, object] = {"people": None, "low": None, "high": None, "viewed": False}
    absent |= {"against": "", "assumed": "", "notes": ""}
    points = tuple(Point(**{**absent, **table}) for table in document["point"])
    return Report(document["day"], document["model"], points)


def _rounded(value: object) -> object:
    return round(value, PLACES) if isinstance(value, float) else value
