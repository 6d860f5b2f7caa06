"""Each thing a review is made with has a version of its own."""

from dataclasses import replace

from app.catalogue.catalogue import Catalogue
from app.catalogue.coinfusion import NO_FACTS
from app.review.knowledge import Knowledge
from app.review.receipts.versions import versions_of


def test_a_changed_part_changes_its_own_version_alone(knowledge: Knowledge) -> None:
    now = versions_of(knowledge)
    fewer_fluids = replace(knowledge, catalogue=Catalogue(knowledge.catalogue.fluids[1:]))
    assert changed(now, versions_of(fewer_fluids)) == {"catalogue"}
    assert changed(now, versions_of(replace(knowledge, pairs=NO_FACTS))) == {"pairs"}


def test_the_same_seed_gives_the_same_versions(knowledge: Knowledge) -> None:
    assert versions_of(Knowledge.from_seed()) == versions_of(knowledge)


def changed(one: dict[str, str], other: dict[str, str]) -> set[str]:
    return {part for part in one if one[part] != other[part]}
