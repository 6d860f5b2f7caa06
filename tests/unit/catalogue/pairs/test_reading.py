"""Facts as written in a file, and what is said of a row that is not right."""

from typing import Any

import pytest

from app.catalogue.pairs.fact import PairFact
from app.catalogue.pairs.reading import pair_facts_from
from app.catalogue.source import Source


def pair(**fields: Any) -> dict[str, Any]:  # noqa: ANN401
    return {"a": "x", "b": "y", "verdict": "keep apart", "source": "label", **fields}


def read(*entries: dict[str, Any]) -> tuple[PairFact, ...]:
    return pair_facts_from([{"pair": list(entries)}]).facts


def test_everything_that_was_told_is_kept() -> None:
    told: dict[str, Any] = {
        "verdict": "may run together", "contact": "Y-site", "strength": "x 10 mg/mL",
        "vehicle": "5% dextrose", "hours": 24, "condition": "c", "mechanism": "m",
        "how_seen": "bench study", "population": "past 28 days", "scope": "lumen",
    }  # fmt: skip
    (fact,) = read(pair(**told, seen=True, source_note="abstract"))
    assert {name: getattr(fact, name) for name in told} == told
    assert fact.source == Source("label", seen=True, note="abstract")


def test_what_was_not_told_stays_untold() -> None:
    (fact,) = read(pair())
    assert (fact.contact, fact.strength, fact.vehicle, fact.how_seen) == ("", "", "", "")
    assert fact.hours is None
    assert (fact.population, fact.scope, fact.source.seen) == ("all", "lumen", False)


def test_a_list_is_so_many_facts_of_the_same_words() -> None:
    facts = read(pair(a=["x", "z"], b=["y", "w"]))
    assert {(fact.a, fact.b) for fact in facts} == {("x", "y"), ("x", "w"), ("z", "y"), ("z", "w")}
    assert len({fact.source for fact in facts}) == 1


@pytest.mark.parametrize(
    ("entry", "says"),
    [
        (pair(verdict="probably fine"), "x and y: verdict must be one of"),
        (pair(contact="bag"), "x and y: contact must be one of same bag, Y-site"),
        (pair(population="dogs"), "x and y: population must be one of all"),
        (pair(scope="bed"), "x and y: scope must be one of lumen, patient"),
        (pair(source=""), "x and y: source is missing"),
        (pair(note="n"), "x and y: unknown key 'note'"),
        (pair(strength=4), "x and y: strength must be a text"),
        (pair(hours="a day"), "x and y: hours must be a number above 0"),
        (pair(hours=0), "x and y: hours must be a number above 0"),
        ({"b": "y", "verdict": "keep apart", "source": "label"}, "\\? and y: a is missing"),
    ],
)
def test_a_row_that_is_not_right_is_named(entry: dict[str, Any], says: str) -> None:
    with pytest.raises(ValueError, match=says):
        read(entry)
