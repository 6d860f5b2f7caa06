"""A worked example of a rule, told as one would tell a colleague."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any, Final

from app.cautions.example import Example
from app.web import show

SAID: Final = {
    "critical": "critical finding",
    "warning": "warning",
    "info": "information",
    "nothing": "nothing found",
    "not assessed": "not assessed",
}
USUAL_AGE: Final = timedelta(hours=1)
ADDITIVE_TEXT: Final = ("amount", "unit", "substance")


@dataclass(frozen=True, slots=True)
class ExampleView:
    """One example: what it shows, who, what is ordered, what else runs, and what is said."""

    title: str
    who: str
    orders: tuple[str, ...]
    others: tuple[str, ...]
    expect: str
    said: str
    why: str


def example_view(example: Example) -> ExampleView:
    """The example in words."""
    request = example.request
    return ExampleView(
        title=example.title,
        who=who(request),
        orders=tuple(order_line(order) for order in request.get("orders", ())),
        others=tuple(str(other.get("name", "")) for other in request.get("co_infusions", ())),
        expect=example.expect.replace(" ", "-"),
        said=SAID[example.expect],
        why=example.why,
    )


def who(request: Mapping[str, Any]) -> str:
    """Age, sex, weight, setting, conditions, medications, urine and results, as far as given."""
    patient: Mapping[str, Any] = request.get("patient", {})
    age, now = patient.get("age_years"), str(request.get("now", ""))
    parts = [
        show.person_age(age) if isinstance(age, int | float) else "",
        str(patient.get("sex", "")),
        show.amount(patient["weight_kg"], "kg", 2) if patient.get("weight_kg") else "",
        str(request.get("setting", "")),
        *_words(patient.get("conditions")),
        *_words(patient.get("medications")),
        f"urine {show.amount(patient['urine_ml_h'], 'mL/h')}" if "urine_ml_h" in patient else "",
        *(_result(observation, now) for observation in patient.get("observations", ())),
    ]
    return ", ".join(part for part in parts if part) or "nothing is known of the patient"


def _words(value: object) -> tuple[str, ...]:
    if isinstance(value, str):
        return (value,)
    return tuple(map(str, value)) if isinstance(value, list | tuple) else ()


def _result(observation: Mapping[str, Any], now: str) -> str:
    name, value = show.name_text(str(observation["name"])), observation.get("value")
    unit = str(observation.get("unit", ""))
    unit = "" if unit == "1" else unit
    text = show.amount(value, unit, 2) if isinstance(value, int | float) else f"{value} {unit}"
    return f"{name} {text.strip()}{_age(str(observation.get('taken_at') or ''), now)}"


def _age(taken_at: str, now: str) -> str:
    """How old a result is; the usual hour goes without saying."""
    try:
        age = datetime.fromisoformat(now) - datetime.fromisoformat(taken_at)
    except (ValueError, TypeError):
        return ""
    return "" if age == USUAL_AGE else f", {show.duration(age)} old"


def order_line(order: Mapping[str, Any]) -> str:
    """An order as it was written: fluid, additives, volume, rate, duration, purpose."""
    parts = [_bag(order)]
    for key, unit in (("volume_ml", "mL"), ("rate_ml_h", "mL/h"), ("duration_h", "h")):
        value = order.get(key)
        if isinstance(value, int | float):
            parts.append(show.amount(value, unit))
    for key in ("rate_text", "order_text", "purpose"):
        if order.get(key):
            parts.append(str(order[key]))
    return ", ".join(parts)


def _bag(order: Mapping[str, Any]) -> str:
    fluid = str(order.get("fluid") or "a fluid that is not named")
    added = [_additive(additive) for additive in order.get("additives", ())]
    return f"{fluid} with {' and '.join(added)}" if added else fluid


def _additive(additive: Mapping[str, Any] | str) -> str:
    if isinstance(additive, str):
        return additive
    return " ".join(str(additive[key]) for key in ADDITIVE_TEXT if additive.get(key) is not None)
