"""Every change, by how it stands, each beside what counted when it did."""

from datetime import timedelta

import pytest
from sqlalchemy import Engine

from app.catalogue.changes.change import FluidEntry, LimitValue, RuleSwitch
from app.catalogue.document import document_of
from app.review.changes.decide import send_back
from app.review.knowledge import Past, shipped
from app.storage.changes.versions import add_version
from app.storage.database import reading, transaction
from app.storage.seed import seed
from app.web.changes.rows import ChangesPage, changes_page
from tests.changing import LIMIT, RULE, drafted, in_force, prescriber
from tests.conftest import LOADED
from tests.unit.review.changes.conftest import DAY, HOUR, NOW


@pytest.fixture
def changed(engine: Engine) -> Engine:
    """A limit changed twice, a rule off, a draft, one waiting, one sent back, a fluid of ours."""
    with transaction(engine) as session:
        seed(session, now=LOADED, demo=False)
    in_force(engine, LimitValue(RULE, LIMIT, 6.2), NOW)
    in_force(engine, LimitValue(RULE, LIMIT, 5.8), NOW + HOUR)
    in_force(engine, RuleSwitch("k-rate", on=False), NOW + 2 * HOUR)
    drafted(engine, RuleSwitch("k-rate", on=True), NOW + 3 * HOUR)
    far = (NOW + 30 * DAY).isoformat()
    in_force(engine, LimitValue(RULE, LIMIT, None), NOW + 4 * HOUR, counts=far)
    back = drafted(engine, RuleSwitch("mg-nmb", on=False), NOW + 5 * HOUR)
    with transaction(engine) as session:
        send_back(session, back, "why at all?", prescriber(NOW + 6 * HOUR))
    fluid = shipped().catalogue.get("lactated-ringers")
    assert fluid is not None
    in_force(engine, FluidEntry(fluid.id, {**document_of(fluid), "note": "Ours."}), NOW + 7 * HOUR)
    return engine


def page(engine: Engine, *, days: float = 1, state: str = "", kind: str = "") -> ChangesPage:
    now = NOW + days * DAY
    with reading(engine) as session:
        past = Past.of(session)
    return changes_page(past, past.at(now), now, state=state, kind=kind)


def numbers(found: ChangesPage) -> dict[str, list[int]]:
    return {group.key: [row.number for row in group.rows] for group in found.groups}


def test_changes_stand_by_what_is_to_be_done_with_them(changed: Engine) -> None:
    assert numbers(page(changed)) == {
        "draft": [4], "waiting": [5], "in-force": [7, 3, 2], "sent-back": [6], "superseded": [1],
    }  # fmt: skip
    assert numbers(page(changed, kind="switch")) == {
        "draft": [4], "in-force": [3], "sent-back": [6],
    }  # fmt: skip
    assert numbers(page(changed, state="waiting")) == {"waiting": [5]}
    assert list(numbers(page(changed, state="nonsuch"))) == list(numbers(page(changed)))


def test_each_is_laid_beside_what_counted_before_it(changed: Engine) -> None:
    rows = {row.number: row for group in page(changed).groups for row in group.rows}
    told = {number: [str(one) for one in row.what] for number, row in rows.items()}
    words = "plasma potassium that is high"
    assert told[1] == [f"{words}: 5.5 mmol/L, as shipped, then 6.2 mmol/L"]
    assert told[2] == [f"{words}: 6.2 mmol/L, then 5.8 mmol/L"]
    assert told[5] == [f"{words}: 5.8 mmol/L, then 5.5 mmol/L, as shipped"]
    assert told[6] == ["the rule is: on, then off"]
    assert told[7][0].startswith("note: Calcium")
    assert "A. Rowan" in rows[2].decided and "J. Birch, pharmacist" in rows[2].signed


def test_what_is_past_its_review_day_is_counted_and_found(changed: Engine) -> None:
    assert page(changed).expired == 0
    late = page(changed, days=400)
    assert late.expired == 3
    found = page(changed, days=400, state="expired")
    assert [row.is_expired for group in found.groups for row in group.rows] == [True] * 3


def test_a_release_that_says_otherwise_is_told(changed: Engine) -> None:
    with transaction(changed) as session:
        at = NOW + timedelta(hours=9)
        add_version(session, "lactated-ringers", {"id": "lactated-ringers"}, at=at, release="2")
    (note,) = page(changed).otherwise
    assert (note.fluid_id, note.number) == ("lactated-ringers", 7)
    assert len(note.differences) > 5
