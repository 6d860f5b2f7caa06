"""A hazard log read from parsed TOML, told field by field. Pure."""

from collections.abc import Mapping, Sequence
from typing import Any, Final

from app.catalogue.entry import EntryError
from app.review.hazards.hazard import OWNERS, STATES, Control, Hazard, HazardLog, Scale, State, Step

# What proves that a rule speaks when it must; every rule's own examples run in it.
EXAMPLES_TEST: Final = "tests/unit/cautions/test_examples.py::test_an_example_gives_what_it_says"
STEPS: Final = 5
HAZARD_KEYS: Final = frozenset(
    {
        *("id", "title", "cause", "harm", "severity", "before", "after"),
        *("owner", "state", "residual", "control"),
    }
)
CONTROL_KEYS: Final = frozenset({"rules", "place", "procedure", "does", "by", "tests"})
Entry = Mapping[str, Any]


def log_from(document: Entry) -> HazardLog:
    """The log. Raises EntryError naming the hazard and its first wrong field."""
    hazards = tuple(_hazard(entry) for entry in document.get("hazard", ()))
    ids = [hazard.id for hazard in hazards]
    for id_ in ids:
        if ids.count(id_) > 1:
            raise EntryError(f"{id_}.id", id_, "an id that no other hazard has")
    return HazardLog(_scale(document.get("scale", {})), hazards)


def _scale(entry: Entry) -> Scale:
    severity, likelihood = (_steps(entry, name, "step") for name in ("severity", "likelihood"))
    for name, steps in (("severity", severity), ("likelihood", likelihood)):
        if [step.step for step in steps] != list(range(1, STEPS + 1)):
            raise EntryError(f"scale.{name}", [s.step for s in steps], f"steps 1 to {STEPS}")
    bands = _steps(entry, "band", "from")
    if not bands or bands[0].step != 1:
        raise EntryError("scale.band", [b.step for b in bands], "bands that begin at 1")
    return Scale(_text(entry, "scale", "says"), severity, likelihood, bands)


def _steps(entry: Entry, name: str, number: str) -> tuple[Step, ...]:
    return tuple(
        Step(
            _whole(step, f"scale.{name}", number, STEPS * STEPS),
            _text(step, f"scale.{name}", "word"),
            _text(step, f"scale.{name}", "means"),
        )
        for step in entry.get(name, ())
    )


def _hazard(entry: Entry) -> Hazard:
    id_ = _text(entry, "hazard", "id")
    _known(entry, id_, HAZARD_KEYS)
    severity, before, after = (
        _whole(entry, id_, name, STEPS) for name in ("severity", "before", "after")
    )
    if after > before:
        raise EntryError(f"{id_}.after", after, f"at most {before}, as it was before")
    controls = tuple(_control(one, id_) for one in entry.get("control", ()))
    if not controls:
        raise EntryError(f"{id_}.control", "none", "at least one control")
    state: State = _one_of(entry, id_, "state", STATES)  # type: ignore[assignment]
    title, cause, harm, residual = (
        _text(entry, id_, name) for name in ("title", "cause", "harm", "residual")
    )
    owner = _one_of(entry, id_, "owner", OWNERS)
    return Hazard(
        id_, title, cause, harm, severity, before, after, owner, state, residual, controls
    )


def _control(entry: Entry, id_: str) -> Control:
    _known(entry, id_, CONTROL_KEYS)
    if len({"rules", "place", "procedure"} & set(entry)) != 1:
        raise EntryError(f"{id_}.control", sorted(entry), "one of rules, place, procedure")
    if "procedure" in entry:
        by = _one_of(entry, id_, "by", OWNERS)
        return Control(_text(entry, id_, "procedure"), by=by)
    does, tests = _text(entry, id_, "does"), _texts(entry, id_, "tests")
    if "rules" in entry:
        rules = _texts(entry, id_, "rules")
        if not rules:
            raise EntryError(f"{id_}.rules", "none", "the id of a rule")
        return Control(does, rules, tests=(EXAMPLES_TEST, *tests))
    if not tests:
        raise EntryError(f"{id_}.tests", "none", "a test that fails when the control is taken away")
    return Control(does, place=_text(entry, id_, "place"), tests=tests)


def _known(entry: Entry, id_: str, keys: frozenset[str]) -> None:
    for key in sorted(set(entry) - keys):
        raise EntryError(f"{id_}.{key}", "unknown field", ", ".join(sorted(keys)))


def _text(entry: Entry, id_: str, field: str) -> str:
    value = entry.get(field)
    if not isinstance(value, str) or not value.strip():
        raise EntryError(f"{id_}.{field}", value, "a text that is not empty")
    return value


def _texts(entry: Entry, id_: str, field: str) -> tuple[str, ...]:
    values = entry.get(field, [])
    if not isinstance(values, list) or not all(isinstance(v, str) and v for v in values):
        raise EntryError(f"{id_}.{field}", values, "a list of texts")
    return tuple(values)


def _whole(entry: Entry, id_: str, field: str, most: int) -> int:
    value = entry.get(field)
    if isinstance(value, bool) or not isinstance(value, int) or not 1 <= value <= most:
        raise EntryError(f"{id_}.{field}", value, f"a whole number from 1 to {most}")
    return value


def _one_of(entry: Entry, id_: str, field: str, accepted: Sequence[str]) -> str:
    value = entry.get(field)
    if value not in accepted:
        raise EntryError(f"{id_}.{field}", value, ", ".join(accepted))
    return str(value)
