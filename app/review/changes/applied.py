"""What a change would make of the knowledge in force, before anybody has approved it."""

from app.catalogue.catalogue import Catalogue
from app.catalogue.changes.change import Change, FluidEntry, LimitValue, RuleSwitch
from app.catalogue.changes.history import Filed
from app.catalogue.entry import fluid_from
from app.cautions.assess import Ruleset
from app.cautions.registry import RULE_BY_ID, RULES
from app.review.knowledge import Knowledge, switched_off_by


def knowledge_with(knowledge: Knowledge, change: Change) -> Knowledge:
    """The knowledge as it would be with a change in force and all else as it is.

    Raises EntryError for a fluid's entry that cannot be read. A rule or limit that the release
    does not know changes nothing.
    """
    content = change.content
    if isinstance(content, FluidEntry):
        return knowledge.having(catalogue=_catalogue(knowledge.catalogue, content))
    if isinstance(content, LimitValue):
        return knowledge.having(ruleset=_with_limit(knowledge.ruleset, content))
    return knowledge.having(ruleset=_with_switch(knowledge.ruleset, change, content))


def _catalogue(catalogue: Catalogue, content: FluidEntry) -> Catalogue:
    fluids = {fluid.id: fluid for fluid in catalogue}
    fluids.pop(content.fluid_id, None)
    if content.document is not None:
        fluids[content.fluid_id] = fluid_from(content.document, file_id=content.fluid_id)
    return Catalogue(tuple(fluids[key] for key in sorted(fluids)))


def _with_limit(ruleset: Ruleset, content: LimitValue) -> Ruleset:
    rule = RULE_BY_ID.get(content.rule_id)
    shipped = {limit.name: limit.value for limit in rule.limits} if rule else {}
    if content.name not in shipped:
        return ruleset
    value = shipped[content.name] if content.value is None else content.value
    own = {**ruleset.limits.get(content.rule_id, {}), content.name: value}
    limits = {**ruleset.limits, content.rule_id: own}
    return Ruleset.of(RULES, limits, ruleset.switched_off)


def _with_switch(ruleset: Ruleset, change: Change, content: RuleSwitch) -> Ruleset:
    off = [one for one in ruleset.switched_off if one.rule.id != content.rule_id]
    # Who would approve it is not known yet; it is the draft's own word that is told.
    told = switched_off_by(Filed(change))
    if told is not None:
        off.append(told)
    return Ruleset.of(RULES, ruleset.limits, sorted(off, key=lambda one: one.rule.id))
