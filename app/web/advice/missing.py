"""What could not be assessed, as rows a page can print: what would change most comes first."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from operator import itemgetter

from app.cautions.assess import Ruleset
from app.cautions.rule import LEVELS, Level, NotAssessed
from app.review.assess import OrderReview, Review
from app.review.missing.would_change import CouldRaise
from app.web import show


@dataclass(frozen=True, slots=True)
class MissingView:
    """One thing not known, and what could not be assessed for want of it.

    raises: cautions that a plausible value would raise, by the worst level they could have.
    rules: the other cautions that could not be assessed.
    """

    what: str
    rules: tuple[str, ...] = ()
    raises: tuple[tuple[Level, tuple[str, ...]], ...] = ()


def missing_of(
    review: Review, ruleset: Ruleset, order: OrderReview | None = None
) -> tuple[MissingView, ...]:
    """What could not be assessed, grouped by what is not known.

    order: only what this one lacks, and the patient as a whole.
    """
    orders = review.orders if order is None else (order,)
    all_missing = [*(n for one in orders for n in one.not_assessed), *review.patient_not_assessed]
    return missing_views(all_missing, _titles_of(ruleset), review.would_change)


def _titles_of(ruleset: Ruleset) -> dict[str, str]:
    """Rule titles by id."""
    return {rule.id: rule.title for rule in (*ruleset.order_rules, *ruleset.patient_rules)}


def missing_views(
    missing: Iterable[NotAssessed],
    titles: Mapping[str, str],
    would_change: Sequence[CouldRaise] = (),
) -> tuple[MissingView, ...]:
    """Each thing not known, once, with the rules that wanted it; what could change most first."""
    grouped: dict[tuple[str, str], dict[str, None]] = {}
    for one in missing:
        grouped.setdefault((one.needs[0], _what(one)), {}).setdefault(one.rule_id)
    ranked = {could.need: (place, could) for place, could in enumerate(would_change)}
    last = len(ranked)
    views: list[tuple[int, MissingView]] = []
    for (need, what), rule_ids in grouped.items():
        place, could = ranked.get(need, (last, None))
        view = _view(what, tuple(rule_ids), could, titles)
        views.append((place if view.raises else last, view))
    return tuple(view for _, view in sorted(views, key=itemgetter(0)))


def _view(
    what: str, rule_ids: tuple[str, ...], could: CouldRaise | None, titles: Mapping[str, str]
) -> MissingView:
    raised = {rule.id: level for rule, level in could.raises} if could else {}
    by_level = [
        (level, tuple(titles.get(i, i) for i in rule_ids if raised.get(i) == level))
        for level in LEVELS
    ]
    return MissingView(
        what,
        rules=tuple(titles.get(i, i) for i in rule_ids if i not in raised),
        raises=tuple((level, told) for level, told in by_level if told),
    )


def _what(missing: NotAssessed) -> str:
    if missing.detail:
        return show.capital(missing.detail)
    return f"No {' or '.join(show.name_text(need) for need in missing.needs)}"
