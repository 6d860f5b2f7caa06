"""Worked examples of the rules: a short form a clinician can read, turned into a request."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any, Final

EXAMPLE_NOW: Final = datetime(2031, 3, 4, 7, 0, tzinfo=UTC)
HOURS_OLD: Final = 1.0
OUTCOMES: Final = ("critical", "warning", "info", "nothing", "not assessed")
KEYS: Final = frozenset(
    {
        *("rule", "title", "expect", "why", "needs", "now"),
        *("order", "orders", "patient", "co_infusions", "setting"),
    }
)
MILLIMOLAR: Final = "mmol/L"
UNITS: Final[Mapping[str, str]] = {
    "creatinine": "umol/L", "bilirubin": "umol/L", "egfr": "mL/min/1.73 m2",
    "albumin": "g/L", "haemoglobin": "g/L", "haematocrit": "%",
    "pco2": "mmHg", "ph": "1", "inr": "1", "creatine_kinase": "U/L",
    "osmolality": "mosm/kg", "urine_osmolality": "mosm/kg",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Example:
    """One worked example of one rule.

    expect: one of OUTCOMES. why: what a reader should learn from it, may be empty. needs: inputs
    each of which, when blanked, must leave the rule "not assessed". request: the whole request.
    """

    rule: str
    title: str
    expect: str
    why: str
    needs: tuple[str, ...]
    request: Mapping[str, Any]

    @property
    def fires(self) -> bool:
        """True when the rule is expected to find something."""
        return self.expect in ("critical", "warning", "info")


def examples_of(table: Mapping[str, Any]) -> tuple[Example, ...]:
    """The examples of one family file (parsed TOML). ValueError names a key that is unknown."""
    return tuple(_example(entry) for entry in table.get("example", ()))


def _example(entry: Mapping[str, Any]) -> Example:
    unknown = sorted(set(entry) - KEYS)
    if unknown:
        raise ValueError(f"example “{entry.get('title', '')}”: unknown key {unknown[0]!r}")
    if entry["expect"] not in OUTCOMES:
        raise ValueError(f"example “{entry['title']}”: expect must be one of {', '.join(OUTCOMES)}")
    return Example(
        rule=entry["rule"],
        title=entry["title"],
        expect=entry["expect"],
        why=entry.get("why", ""),
        needs=tuple(entry.get("needs", ())),
        request=request_of(entry),
    )


def request_of(example: Mapping[str, Any]) -> dict[str, Any]:
    """The request an example's short form stands for.

    `order` becomes the only order; orders without an id get o1, o2, …; `results` become
    observations in the project's units, one hour old unless `hours_old` names another age.
    """
    orders = [example["order"]] if "order" in example else example.get("orders", [])
    request: dict[str, Any] = {
        "now": _stamp(example.get("now", EXAMPLE_NOW)),
        "patient": _patient(example.get("patient", {})),
        "orders": [{"id": f"o{number}", **order} for number, order in enumerate(orders, 1)],
        "co_infusions": [dict(infusion) for infusion in example.get("co_infusions", [])],
    }
    if "setting" in example:
        request["setting"] = example["setting"]
    return request


def _patient(short: Mapping[str, Any]) -> dict[str, Any]:
    patient = {key: value for key, value in short.items() if key not in ("results", "hours_old")}
    ages: Mapping[str, float] = short.get("hours_old", {})
    taken = [
        _observation(name, value, ages.get(name, HOURS_OLD))
        for name, value in short.get("results", {}).items()
    ]
    if taken or "observations" in short:
        patient["observations"] = [*short.get("observations", []), *taken]
    return patient


def _observation(name: str, value: float, hours_old: float) -> dict[str, Any]:
    return {
        "name": name,
        "value": value,
        "unit": UNITS.get(name, MILLIMOLAR),
        "taken_at": _stamp(EXAMPLE_NOW - timedelta(hours=hours_old)),
    }


def _stamp(moment: datetime) -> str:
    return moment.isoformat().replace("+00:00", "Z")


def blanked(request: Mapping[str, Any], need: str) -> dict[str, Any]:
    """The request with one input taken away wherever it stands: as an observation, a field of
    the patient, of every order and co-infusion, or of the request itself.
    """
    patient = _without(request.get("patient", {}), need)
    if "observations" in patient:
        patient["observations"] = [o for o in patient["observations"] if o.get("name") != need]
    return {
        **_without(request, need),
        "patient": patient,
        "orders": _each_without(request.get("orders", []), need),
        "co_infusions": _each_without(request.get("co_infusions", []), need),
    }


def _each_without(parts: Iterable[Mapping[str, Any]], need: str) -> list[dict[str, Any]]:
    return [_without(part, need) for part in parts]


def _without(part: Mapping[str, Any], need: str) -> dict[str, Any]:
    return {key: value for key, value in part.items() if key != need}


def without_patient(request: Mapping[str, Any]) -> dict[str, Any]:
    """The request with all that is known of the patient taken away: results, conditions, age,
    weight, setting, access, and the lumen each infusion runs on. What is ordered stays.
    """
    bare = {key: value for key, value in request.items() if key not in ("patient", "setting")}
    return blanked({**bare, "patient": {}}, "lumen")
