"""Problem lists and results are understood as a careful reader understands them.

`python -m tests.cases.words.test_conditions` prints the share read right in each half, and each
wording that is not.
"""

import tomllib
from collections.abc import Iterator, Mapping
from datetime import datetime
from pathlib import Path
from typing import Any, Final

import pytest

from app.intake.errors import InputError, InputErrors
from app.intake.read import read_case
from app.patient.case import Case
from app.patient.observation import Observation
from app.review.knowledge import Knowledge
from app.review.workflow import review_request

HERE: Final = Path(__file__).parent
NOW: Final = "2031-03-04T07:00:00Z"
EARLIER: Final = "2031-03-04T06:00:00Z"
NEAR: Final = 0.01
FILES: Final = ("conditions", "results")
# A bag whose review asks for potassium, sodium and glucose.
ORDER: Final = {
    "id": "o1",
    "fluid": "0.45% sodium chloride with 5% glucose",
    "additives": [{"substance": "potassium chloride", "amount": 20, "unit": "mmol"}],
    "volume_ml": 1000,
    "rate_ml_h": 125,
    "lumen": "p1",
    "purpose": "maintenance",
}
SUSPECT_OR_HIGH: Final = ("data-suspect", "k-hyper")


def wordings(name: str) -> list[dict[str, Any]]:
    """Every wording of a file with its meaning."""
    table = tomllib.loads((HERE / f"{name}.toml").read_text("utf-8"))
    return [
        wording | {"later": group.get("later", False)}
        for group in table["group"]
        for wording in group["wording"]
    ]


def request_of(wording: Mapping[str, Any]) -> dict[str, Any]:
    """A whole request in which the wording stands."""
    listed = [wording["words"]] if "words" in wording else wording.get("conditions", [])
    results = [{"taken_at": EARLIER, **one} for one in wording.get("results", ())]
    patient = {"age_years": 54, "sex": "male", "conditions": listed, "observations": results}
    if not {"weight_kg", "something"} & wording.keys():
        patient["weight_kg"] = 70
    access = [{"id": "p1", "site": "peripheral"}]
    return {"now": NOW, "setting": "adult ward", "patient": patient | {"access": access},
            "orders": [ORDER]}  # fmt: skip


def faults_of(wording: Mapping[str, Any], knowledge: Knowledge) -> list[str]:
    """Where the reading differs from the meaning; empty when they agree."""
    request = request_of(wording)
    try:
        case = read_case(
            request,
            catalogue=knowledge.catalogue,
            vocabulary=knowledge.vocabulary,
            now=datetime.fromisoformat(NOW),
        )
    except (InputError, InputErrors) as refused:
        told = {"asked", "unknown", "something"} & wording.keys()
        return [] if told else [f"refused: {refused}"]
    return [
        *_condition_faults(wording, case),
        *_result_faults(wording, case),
        *_body_faults(wording, case),
        *_review_faults(wording, request, knowledge),
    ]


def _condition_faults(wording: Mapping[str, Any], case: Case) -> Iterator[str]:
    words = case.patient.conditions
    asked = bool(words.unread or case.questions)
    found = words.found
    yield from (f"{key} not found" for key in wording.get("found", ()) if key not in found)
    yield from (f"{key} found" for key in wording.get("never", ()) if key in found)
    for key in wording.get("denied", ()):
        if key in found or key not in words.denied:
            yield f"{key} not denied"
    for key in wording.get("maybe", ()):
        if key not in found and not asked:
            yield f"{key} neither found nor asked about"
    if wording.get("ask") and not asked:
        yield f"nothing asked, read as {sorted(found)}"
    for name in wording.get("result", {}):
        if not (case.patient.results.get(name) or found or asked):
            yield f"{name} dropped"


def _result_faults(wording: Mapping[str, Any], case: Case) -> Iterator[str]:
    newest = {name: rows[0] for name, rows in case.patient.results.items() if rows}
    right = {name for name, one in newest.items() if _is_right(one, wording)}
    doubted = {name for name, one in newest.items() if one.value is None and one.doubt}
    if not newest and any(question.field.endswith(".name") for question in case.questions):
        doubted = {*wording.get("or_ask", ()), *wording.get("asked", ())}
    wrong = {
        *(wording.get("values", {}).keys() - right),
        *(wording.get("or_ask", {}).keys() - right - doubted),
        *(set(wording.get("asked", ())) - doubted),
        *(set(wording.get("absent", ())) & newest.keys()),
        *(n for n in wording.get("unknown", ()) if case.patient.value_or_none(n) is not None),
    }
    yield from (f"{name} read as {_said(newest.get(name))}" for name in sorted(wrong))
    if wording.get("one_of") and not wording["one_of"].keys() & right:
        yield f"read as {[_said(one) for one in newest.values()]}"
    every = (one for rows in case.patient.results.values() for one in rows)
    if wording.get("something") and not (case.questions or any(one.doubt for one in every)):
        yield f"nothing asked: {[_said(one) for one in newest.values()]}"


def _is_right(one: Observation, wording: Mapping[str, Any]) -> bool:
    tables = (wording.get(table, {}) for table in ("values", "one_of", "or_ask"))
    return any(one.name in table and _near(one.value, table[one.name]) for table in tables)


def _near(read: float | None, meant: float) -> bool:
    return read is not None and abs(read - meant) <= NEAR * max(abs(meant), 1)


def _said(one: Observation | None) -> str:
    return "nothing" if one is None else f"{one.value} {one.doubt or one.converted}".strip()


def _body_faults(wording: Mapping[str, Any], case: Case) -> Iterator[str]:
    for name in ("weight_kg", "height_cm", "urine_ml_h"):
        if name in wording and not _near(getattr(case.patient, name), wording[name]):
            yield f"{name} read as {getattr(case.patient, name)}"


def _review_faults(
    wording: Mapping[str, Any], request: dict[str, Any], knowledge: Knowledge
) -> Iterator[str]:
    if not {"flagged", "loud", "plain"} & wording.keys():
        return
    found = review_request(request, knowledge).all_found
    suspect = [f for f in found if f.rule.id == "data-suspect"]
    if "flagged" in wording and not suspect:
        yield "not flagged"
    loud = [f for f in found if f.rule.id in SUSPECT_OR_HIGH and f.finding.level != "info"]
    if "loud" in wording and not loud:
        yield f"not flagged loudly: {[(f.rule.id, f.finding.level) for f in found]}"
    if "plain" in wording and suspect:
        yield f"flagged: {suspect[0].finding.why}"


def report() -> Iterator[str]:
    """The share read right in each half of each file, and what was read wrong."""
    knowledge = Knowledge.from_seed()
    for name in FILES:
        halves: dict[str, list[bool]] = {"worked on": [], "put aside": [], "written later": []}
        for wording in wordings(name):
            faults = faults_of(wording, knowledge)
            kept = wording.get("kept", False)
            half = "put aside" if kept else "written later" if wording["later"] else "worked on"
            halves[half].append(not faults)
            if faults:
                what = wording.get("words") or [wording["results"], wording.get("conditions", "")]
                yield f"{'kept ' if kept else ''}{what}: {'; '.join(faults)}"
        for half, right in halves.items():
            yield f"{name}, {half}: {sum(right)} of {len(right)}"


@pytest.mark.parametrize("name", FILES)
def test_wordings_are_understood(name: str, seeded: Knowledge) -> None:
    missed = [wording for wording in wordings(name) if faults_of(wording, seeded)]
    known = [wording for wording in wordings(name) if wording.get("missed")]
    assert missed == known, [wording for wording in missed if wording not in known]


@pytest.mark.parametrize("name", FILES)
def test_every_second_wording_was_put_aside(name: str) -> None:
    every = [wording for wording in wordings(name) if not wording["later"]]
    kept = sum(wording.get("kept", False) for wording in every)
    assert abs(kept - len(every) / 2) <= 1


@pytest.fixture(scope="module")
def seeded() -> Knowledge:
    """The knowledge that the repository holds."""
    return Knowledge.from_seed()


if __name__ == "__main__":
    print("\n".join(report()))
