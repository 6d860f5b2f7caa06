"""Each thing a review is made with has a version of its own."""

from dataclasses import fields, replace

from app.catalogue.catalogue import Catalogue
from app.catalogue.pairs.facts import NO_FACTS
from app.catalogue.vehicles.vehicle import NO_VEHICLES
from app.review.knowledge import Knowledge
from app.review.receipts.versions import versions_of


def test_a_changed_part_changes_its_own_version_alone(knowledge: Knowledge) -> None:
    now = versions_of(knowledge)
    fewer_fluids = replace(knowledge, catalogue=Catalogue(knowledge.catalogue.fluids[1:]))
    assert changed(now, versions_of(fewer_fluids)) == {"catalogue"}
    assert changed(now, versions_of(replace(knowledge, pairs=NO_FACTS))) == {"pairs"}
    assert changed(now, versions_of(replace(knowledge, vehicles=NO_VEHICLES))) == {"vehicles"}


def test_everything_a_review_is_made_with_has_a_version(knowledge: Knowledge) -> None:
    # plasma is only compared with; version stands for the whole.
    parts = {field.name for field in fields(Knowledge)} - {"plasma", "version"}
    assert set(versions_of(knowledge)) == parts | {"program"}


def test_the_same_seed_gives_the_same_versions(knowledge: Knowledge) -> None:
    assert versions_of(Knowledge.from_seed()) == versions_of(knowledge)


def changed(one: dict[str, str], other: dict[str, str]) -> set[str]:
    return {part for part in one if one[part] != other[part]}
