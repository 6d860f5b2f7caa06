"""Knowledge as bytes that another process or machine of the same release can open.

Rules hold functions, some without a name, so a rule goes as its id and what differs from the one
shipped; word lists go without what was kept while reading.
"""

import copyreg
import io
import pickle
from collections.abc import Callable
from dataclasses import fields, replace
from types import MappingProxyType
from typing import Any, Final

from app.cautions.registry import RULES
from app.cautions.rule import Rule
from app.intake.vocabulary import Vocabulary
from app.review.replay.twice import Known

SHIPPED: Final = {rule.id: rule for rule in RULES}
Reduced = tuple[Callable[..., Any], tuple[Any, ...]]


def pack(before: Known, after: Known) -> bytes:
    """Both states as bytes; what they share stays shared, so that it is read once."""
    kept = io.BytesIO()
    pickler = pickle.Pickler(kept, pickle.HIGHEST_PROTOCOL)
    pickler.dispatch_table = copyreg.dispatch_table | {
        MappingProxyType: _of_proxy,
        Rule: _of_rule,
        Vocabulary: _of_words,
    }
    pickler.dump((before, after))
    return kept.getvalue()


def unpack(packed: bytes) -> tuple[Known, Known]:
    """The two states again. Only for bytes that pack() made: opening others runs what they say."""
    before, after = pickle.loads(packed)
    return before, after


def rule_like(rule_id: str, other: dict[str, Any]) -> Rule:
    """The shipped rule of this id with some fields otherwise."""
    return replace(SHIPPED[rule_id], **other) if other else SHIPPED[rule_id]


def words_of(tables: dict[str, Any]) -> Vocabulary:
    """Word lists built anew."""
    return Vocabulary.of(tables)


def proxy_of(held: dict[Any, Any]) -> "MappingProxyType[Any, Any]":
    """A mapping that cannot be changed."""
    return MappingProxyType(held)


def _of_proxy(proxy: "MappingProxyType[Any, Any]") -> Reduced:
    return proxy_of, (dict(proxy),)


def _of_rule(rule: Rule) -> Reduced:
    shipped = SHIPPED[rule.id]
    names = (field.name for field in fields(rule))
    other = {n: getattr(rule, n) for n in names if getattr(rule, n) != getattr(shipped, n)}
    return rule_like, (rule.id, other)


def _of_words(vocabulary: Vocabulary) -> Reduced:
    return words_of, (dict(vocabulary.tables),)
