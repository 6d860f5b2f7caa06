"""What a change would make of what is in force, before anybody approved it."""

from sqlalchemy import Engine

from app.catalogue.changes.change import FluidEntry, LimitValue, RuleSwitch
from app.catalogue.document import document_of
from app.review.changes.applied import knowledge_with
from app.review.knowledge import Knowledge, shipped
from app.storage.database import reading
from tests.changing import LIMIT, RULE, change, in_force
from tests.unit.review.changes.conftest import DAY, NOW


def at(engine: Engine, days: float) -> Knowledge:
    with reading(engine) as session:
        return Knowledge.at(session, NOW + days * DAY)


def ringers(note: str) -> FluidEntry:
    fluid = shipped().catalogue.get("lactated-ringers")
    assert fluid is not None
    return FluidEntry(fluid.id, {**document_of(fluid), "note": note})


def test_what_a_draft_promises_is_what_comes_to_count(loaded: Engine) -> None:
    """The version names all that a review is made with, so the two are the same to the letter."""
    for day, content in enumerate(
        [
            LimitValue(RULE, LIMIT, 6.2), ringers("Ours."), LimitValue(RULE, LIMIT, None),
            FluidEntry("dextrose-5", None),
        ]
    ):  # fmt: skip
        promised = knowledge_with(at(loaded, day), change(content, NOW))
        in_force(loaded, content, NOW + day * DAY)
        counted = at(loaded, day + 0.5)
        assert promised.version == counted.version
        assert promised.catalogue == counted.catalogue
        assert promised.ruleset == counted.ruleset


def test_a_switch_takes_the_rule_out_and_names_it_and_puts_it_back() -> None:
    off = knowledge_with(shipped(), change(RuleSwitch(RULE, on=False), NOW))
    assert [one.rule.id for one in off.ruleset.switched_off] == [RULE]
    assert RULE not in {rule.id for rule in off.ruleset.order_rules}
    again = knowledge_with(off, change(RuleSwitch(RULE, on=True), NOW))
    assert again.version == shipped().version


def test_a_limit_changes_that_limit_alone_and_keeps_what_is_off() -> None:
    off = knowledge_with(shipped(), change(RuleSwitch(RULE, on=False), NOW))
    both = knowledge_with(off, change(LimitValue("k-rate", "adult_usual_mmol_h", 9.0), NOW))
    apart = [
        (rule, name)
        for rule, limits in both.ruleset.limits.items()
        for name, value in limits.items()
        if value != shipped().ruleset.limits[rule][name]
    ]
    assert apart == [("k-rate", "adult_usual_mmol_h")]
    assert both.ruleset.switched_off == off.ruleset.switched_off


def test_what_the_release_does_not_know_changes_nothing() -> None:
    for content in (
        LimitValue(RULE, "nonsuch", 1.0), LimitValue("nonsuch", LIMIT, 1.0),
        RuleSwitch("nonsuch", on=False),
    ):  # fmt: skip
        assert knowledge_with(shipped(), change(content, NOW)).version == shipped().version


def test_a_new_fluid_takes_its_place_in_the_order_of_the_catalogue() -> None:
    new = {**(ringers("").document or {}), "id": "a-new-fluid", "name": "a new fluid"}
    new.pop("reference_id", None)
    found = knowledge_with(shipped(), change(FluidEntry("a-new-fluid", new), NOW))
    ids = [fluid.id for fluid in found.catalogue]
    assert "a-new-fluid" in ids and ids == sorted(ids)
