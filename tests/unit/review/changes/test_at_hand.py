"""The running server notices what came to count, in every worker, without restart."""

import pytest
from sqlalchemy import Engine, event

from app.catalogue.changes.change import LimitValue
from app.review.changes.at_hand import AtHand
from app.review.knowledge import shipped
from app.storage.changes.versions import add_version
from app.storage.database import connect, transaction
from tests.changing import LIMIT, RULE, in_force
from tests.unit.review.changes.conftest import DAY, HOUR, NOW


def limit(hand: AtHand, days: float) -> float:
    return hand.knowledge(NOW + days * DAY).ruleset.limits[RULE][LIMIT]


def test_an_approval_counts_in_every_worker(loaded: Engine) -> None:
    workers = [AtHand(loaded), AtHand(loaded)]
    assert [limit(one, 0) for one in workers] == [5.5, 5.5]
    in_force(loaded, LimitValue(RULE, LIMIT, 6.2), NOW)
    assert [limit(one, 1) for one in workers] == [6.2, 6.2]


def test_what_waits_counts_at_its_moment_although_no_row_is_added_then(loaded: Engine) -> None:
    hand = AtHand(loaded)
    at = NOW + DAY
    in_force(loaded, LimitValue(RULE, LIMIT, 6.2), NOW, counts=at.isoformat())
    assert limit(hand, 0.5) == 5.5
    assert hand.knowledge(at - HOUR / 60) is hand.knowledge(at - HOUR)
    assert limit(hand, 1) == 6.2


def test_a_release_that_is_loaded_is_noticed_too(loaded: Engine) -> None:
    hand = AtHand(loaded)
    assert hand.knowledge(NOW).catalogue.get("dextrose-5") is not None
    with transaction(loaded) as session:
        add_version(session, "dextrose-5", None, at=NOW, release="2")
    assert hand.knowledge(NOW).catalogue.get("dextrose-5") is None


def test_asking_costs_one_query_and_the_same_knowledge_comes_back(loaded: Engine) -> None:
    hand = AtHand(loaded)
    first = hand.knowledge(NOW)
    asked: list[str] = []
    event.listen(loaded, "before_cursor_execute", lambda *told: asked.append(told[2]))
    assert hand.knowledge(NOW + HOUR) is first
    assert len([one for one in asked if one.startswith("SELECT")]) == 1


@pytest.mark.parametrize("has_tables", [True, False])
def test_before_anything_is_loaded_it_is_what_the_release_says(
    engine: Engine, tmp_path_factory: pytest.TempPathFactory, has_tables: bool
) -> None:
    empty = connect(f"sqlite:///{tmp_path_factory.mktemp('none') / 'empty.db'}")
    hand = AtHand(engine if has_tables else empty)
    assert hand.knowledge(NOW).version == shipped().version
    empty.dispose()
