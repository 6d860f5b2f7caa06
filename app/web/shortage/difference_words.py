"""What is otherwise than in a kept plan, as sentences."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final, cast

from app.catalogue.catalogue import Catalogue
from app.cautions.registry import RULE_BY_ID
from app.review.shortage.kept.comparing import Difference
from app.web.shortage.words import count_days, litres_text

STANDINGS: Final[Mapping[object, str]] = {
    None: "not concerned",
    "affected": "affected",
    "over": "over before it begins",
    "may be": "affected if the name means it",
}
NO_SUBSTITUTE: Final = "no substitute"
NOTHING_NEW: Final = "nothing new"
CONTENT: Final = "Rules, limits or catalogue have changed since."


@dataclass(frozen=True, slots=True)
class Said:
    """One difference: what it is about, how it was, and how it is now."""

    about: str
    was: str
    now: str


def difference_words(one: Difference, catalogue: Catalogue, beds: Mapping[str, str]) -> Said:
    """One difference in words. beds: by patient, of those on the unit now."""
    if one.kind == "knowledge":
        return Said(CONTENT, str(one.was), str(one.now))
    if one.kind == "order":
        return _of_order(one, catalogue, beds)
    name = _name(one.about[0], catalogue)
    was, now = cast(float | None, one.was), cast(float | None, one.now)
    if one.kind == "use":
        return Said(f"{name}, use a day", _litres(was), _litres(now))
    turned = ", which orders turn to" if one.kind == "second" else ""
    return Said(f"{name}{turned}, days left", _days(was), _days(now))


def _of_order(one: Difference, catalogue: Catalogue, beds: Mapping[str, str]) -> Said:
    patient, order = one.about
    who = f"Bed {beds[patient]}" if patient in beds else "A patient who is here no more"
    about = f"{who}, order {order}"
    if one.what == "standing":
        return Said(about, STANDINGS.get(one.was, ""), STANDINGS.get(one.now, ""))
    if one.what == "to":
        return Said(f"{about}, turns to", _to(one.was, catalogue), _to(one.now, catalogue))
    return Said(f"{about}, new cautions", _cautions(one.was), _cautions(one.now))


def _to(fluid_id: object, catalogue: Catalogue) -> str:
    return _name(str(fluid_id), catalogue) if fluid_id else NO_SUBSTITUTE


def _name(fluid_id: str, catalogue: Catalogue) -> str:
    fluid = catalogue.get(fluid_id)
    return fluid_id if fluid is None else fluid.name


def _cautions(found: object) -> str:
    told = [f"{level}: {_title(rule)}" for rule, level in cast(list[Any], found)]
    return "; ".join(told) or NOTHING_NEW


def _title(rule_id: str) -> str:
    rule = RULE_BY_ID.get(rule_id)
    return rule_id if rule is None else rule.title


def _litres(ml: float | None) -> str:
    return "none" if not ml else litres_text(ml)


def _days(days: float | None) -> str:
    return "not known or not used" if days is None else count_days(days)
