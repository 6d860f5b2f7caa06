"""Drafting: refused by field, told what changed meanwhile, recorded, and counting for nothing."""

import json
from copy import deepcopy
from typing import Any

import pytest
from sqlalchemy import Engine, select

from app.catalogue.changes.change import FluidEntry, LimitValue, RuleSwitch
from app.catalogue.document import document_of
from app.catalogue.entry import EntryError
from app.review.changes.draft import (
    Asked,
    draft_fluid,
    draft_limit,
    draft_removal,
    draft_switch,
)
from app.review.changes.meanwhile import ChangedMeanwhile
from app.review.knowledge import Knowledge, shipped
from app.storage.audit.tables import TrailRow
from app.storage.changes.records import read_history
from app.storage.database import reading, transaction
from tests.changing import LIMIT, RULE, asked, drafted, in_force, pharmacist, prescriber
from tests.unit.review.changes.conftest import DAY, HOUR, NOW


@pytest.fixture
def ringers() -> dict[str, Any]:
    fluid = shipped().catalogue.get("lactated-ringers")
    assert fluid is not None
    return deepcopy(document_of(fluid))


def count(engine: Engine) -> int:
    with reading(engine) as session:
        return len(read_history(session).filed)


def test_a_draft_counts_for_nothing_and_is_in_the_trail_with_before_and_after(
    loaded: Engine,
) -> None:
    number = drafted(loaded, LimitValue(RULE, LIMIT, 6.2), NOW)
    with reading(loaded) as session:
        assert Knowledge.at(session, NOW + DAY).ruleset.limits[RULE][LIMIT] == 5.5
        row = session.scalars(select(TrailRow).order_by(TrailRow.seq.desc())).first()
    assert row is not None
    assert (row.subject, row.act, row.who) == (f"change:{number}", "draft-change", "J. Birch")
    assert json.loads(row.before or "") == {"value": None}
    assert json.loads(row.after or "") == {"subject": f"limit:{RULE}/{LIMIT}", "value": 6.2}


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        ({"id": "Ringer's"}, "id"),
        ({"id": "../secret"}, "id"),
        ({"id": "x" * 61}, "id"),
        ({"id": None}, "id"),
        ({"name": " "}, "name"),
        ({"kind": "soup"}, "kind"),
        ({"colour": "blue"}, "colour"),
        ({"osmolarity_labelled_mosm_l": -1}, "osmolarity_labelled_mosm_l"),
        ({"osmolarity_labelled_mosm_l": 300}, "osmolarity"),
        ({"composition_mmol_l": {"sodium": 130, "chloride": 109}}, "charge"),
        ({"source": []}, "source"),
    ],
)
def test_a_fluid_that_is_no_fluid_is_refused_by_field(
    loaded: Engine, ringers: dict[str, Any], changed: dict[str, Any], field: str
) -> None:
    with pytest.raises(EntryError) as told, transaction(loaded) as session:
        draft_fluid(session, {**ringers, **changed}, asked(NOW), pharmacist(NOW))
    assert told.value.field == field
    assert count(loaded) == 0


def test_a_label_that_does_not_add_up_is_accepted_once_it_is_explained(
    loaded: Engine, ringers: dict[str, Any]
) -> None:
    odd = {**ringers, "osmolarity_labelled_mosm_l": 300, "explained": {"osmolarity": "as printed"}}
    with transaction(loaded) as session:
        assert draft_fluid(session, odd, asked(NOW), pharmacist(NOW)) == 1


def test_an_entry_in_which_nothing_is_changed_is_no_draft(
    loaded: Engine, ringers: dict[str, Any]
) -> None:
    with pytest.raises(EntryError, match="something else"), transaction(loaded) as session:
        draft_fluid(session, ringers, asked(NOW), pharmacist(NOW))


def test_a_fluid_that_is_not_there_cannot_be_taken_out(loaded: Engine) -> None:
    with pytest.raises(EntryError), transaction(loaded) as session:
        draft_removal(session, "nonsuch", asked(NOW), pharmacist(NOW))
    with transaction(loaded) as session:
        assert draft_removal(session, "dextrose-5", asked(NOW), pharmacist(NOW)) == 1


@pytest.mark.parametrize("named", [(RULE, "nonsuch"), ("nonsuch", LIMIT), ("", "")])
def test_a_limit_that_is_not_there_is_refused(loaded: Engine, named: tuple[str, str]) -> None:
    with pytest.raises(EntryError) as told, transaction(loaded) as session:
        draft_limit(session, named, "5", asked(NOW), pharmacist(NOW))
    assert told.value.field == "limit"


def test_the_limit_in_force_is_the_hospitals_own(loaded: Engine) -> None:
    in_force(loaded, LimitValue(RULE, LIMIT, 6.2), NOW)
    later = NOW + HOUR
    with pytest.raises(EntryError, match="another value"), transaction(loaded) as session:
        draft_limit(session, (RULE, LIMIT), "6.2", asked(later), pharmacist(later))
    with transaction(loaded) as session:
        draft_limit(session, (RULE, LIMIT), "5.5", asked(later), pharmacist(later))
    assert count(loaded) == 2


@pytest.mark.parametrize("rule_id", ["nonsuch", "data-missing", "order-ambiguous"])
def test_what_says_that_data_is_lacking_is_never_switched_off(loaded: Engine, rule_id: str) -> None:
    with pytest.raises(EntryError) as told, transaction(loaded) as session:
        draft_switch(session, rule_id, False, asked(NOW), pharmacist(NOW))
    assert told.value.field == "rule"


def test_a_back_dated_moment_is_refused_by_name(loaded: Engine) -> None:
    with pytest.raises(EntryError) as told:
        drafted(loaded, RuleSwitch(RULE, on=False), NOW, counts=(NOW - DAY).isoformat())
    assert (told.value.field, told.value.value) == ("effective_from", (NOW - DAY).isoformat())


@pytest.mark.parametrize("began", ["", "yesterday", "2026-01-01T00:00", "2099-01-01T00:00+00:00"])
def test_when_a_draft_was_begun_must_be_told(loaded: Engine, began: str) -> None:
    told_by = Asked("why", "", "2026-12-01", began)
    with pytest.raises(EntryError) as told, transaction(loaded) as session:
        draft_switch(session, RULE, False, told_by, pharmacist(NOW))
    assert told.value.field == "based_on"


def test_the_second_of_two_is_told_field_by_field_and_may_send_it_again(
    loaded: Engine, ringers: dict[str, Any]
) -> None:
    """Both open the form at noon; one drafts and has it approved, the other sends at two."""
    first = deepcopy(ringers)
    first["composition_mmol_l"].update(sodium=131, chloride=110)
    in_force(loaded, FluidEntry("lactated-ringers", first), NOW)
    drafted(loaded, FluidEntry("lactated-ringers", {**first, "note": "Waits."}), NOW + HOUR)
    second = {**ringers, "note": "Mine."}
    by = pharmacist(NOW + 2 * HOUR, "C. Ash")
    with pytest.raises(ChangedMeanwhile) as told, transaction(loaded) as session:
        draft_fluid(session, second, asked(by.at, based_on=NOW.isoformat()), by)
    meanwhile = told.value.meanwhile
    assert [str(one) for one in meanwhile.in_force] == [
        "sodium, mmol/L: 130, then 131", "chloride, mmol/L: 109, then 110",
    ]  # fmt: skip
    ((theirs, apart),) = meanwhile.drafts
    assert theirs.change.number == 2
    assert [one.after for one in apart] == ["Waits."]
    with transaction(loaded) as session:
        draft_fluid(session, second, asked(by.at, based_on=meanwhile.began), by)
    assert count(loaded) == 3


def test_what_others_do_elsewhere_is_no_matter(loaded: Engine) -> None:
    in_force(loaded, LimitValue(RULE, LIMIT, 6.2), NOW)
    in_force(
        loaded,
        LimitValue("k-rate", "adult_usual_mmol_h", 9.0),
        NOW + HOUR,
        based_on=NOW.isoformat(),
    )
    assert count(loaded) == 2


def test_only_what_was_sent_back_is_written_anew(loaded: Engine) -> None:
    drafted(loaded, RuleSwitch(RULE, on=False), NOW)
    later = NOW + HOUR
    for revises in (1, 77):
        with pytest.raises(EntryError) as told, transaction(loaded) as session:
            again = asked(later, revises=revises)
            draft_switch(session, RULE, False, again, prescriber(later))
        assert told.value.field == "revises"
