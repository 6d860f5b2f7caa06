"""A hazard log is read whole, or refused by hazard and field."""

from copy import deepcopy
from typing import Any

import pytest

from app.catalogue.entry import EntryError
from app.review.hazards.reading import EXAMPLES_TEST, log_from

STEPS = [{"step": n, "word": f"w{n}", "means": f"m{n}"} for n in range(1, 6)]
DOCUMENT: dict[str, Any] = {
    "scale": {
        "says": "ours",
        "severity": STEPS,
        "likelihood": STEPS,
        "band": [{"from": 1, "word": "low", "means": "watched"}],
    },
    "hazard": [
        {
            "id": "one",
            "title": "T",
            "cause": "C",
            "harm": "H",
            "severity": 4,
            "before": 3,
            "after": 2,
            "owner": "maker",
            "state": "open",
            "residual": "R",
            "control": [
                {"rules": ["k-hyper"], "does": "said"},
                {"place": "app/main.py", "does": "joins", "tests": ["tests/x.py::test_y"]},
                {"procedure": "People look.", "by": "charge nurse"},
            ],
        }
    ],
}


def test_a_log_is_read_with_its_scale_and_controls() -> None:
    log = log_from(DOCUMENT)
    (hazard,) = log.hazards
    assert (hazard.severity, hazard.before, hazard.after, hazard.state) == (4, 3, 2, "open")
    rules, place, procedure = hazard.controls
    assert rules.tests == (EXAMPLES_TEST,)
    assert (place.place, place.tests) == ("app/main.py", ("tests/x.py::test_y",))
    assert (procedure.does, procedure.by, procedure.tests) == ("People look.", "charge nurse", ())
    assert log.scale.severity[4].word == "w5"


def changed(path: tuple[str | int, ...], value: object) -> dict[str, Any]:
    document = deepcopy(DOCUMENT)
    held: Any = document
    for step in path[:-1]:
        held = held[step]
    held[path[-1]] = value
    return document


HAZARD = ("hazard", 0)


@pytest.mark.parametrize(
    ("path", "value", "field"),
    [
        ((*HAZARD, "title"), " ", "one.title"),
        ((*HAZARD, "id"), "", "hazard.id"),
        ((*HAZARD, "severity"), 6, "one.severity"),
        ((*HAZARD, "severity"), True, "one.severity"),
        ((*HAZARD, "before"), 2.5, "one.before"),
        ((*HAZARD, "after"), 4, "one.after"),
        ((*HAZARD, "owner"), "nobody", "one.owner"),
        ((*HAZARD, "state"), "fine", "one.state"),
        ((*HAZARD, "residual"), None, "one.residual"),
        ((*HAZARD, "likelyhood"), 3, "one.likelyhood"),
        ((*HAZARD, "control"), [], "one.control"),
        ((*HAZARD, "control", 0, "rules"), [], "one.rules"),
        ((*HAZARD, "control", 0, "rules"), "k-hyper", "one.rules"),
        ((*HAZARD, "control", 0, "place"), "app/main.py", "one.control"),
        ((*HAZARD, "control", 1, "tests"), [], "one.tests"),
        ((*HAZARD, "control", 1, "test"), "x", "one.test"),
        ((*HAZARD, "control", 2, "by"), "somebody", "one.by"),
        (("scale", "severity"), STEPS[:4], "scale.severity"),
        (("scale", "likelihood"), [], "scale.likelihood"),
        (("scale", "band"), [{"from": 2, "word": "x", "means": "y"}], "scale.band"),
        (("scale", "says"), "", "scale.says"),
        (("hazard",), DOCUMENT["hazard"] * 2, "one.id"),
    ],
    ids=str,
)
def test_what_cannot_be_read_is_refused_by_field(
    path: tuple[str | int, ...], value: object, field: str
) -> None:
    with pytest.raises(EntryError) as told:
        log_from(changed(path, value))
    assert told.value.field == field
