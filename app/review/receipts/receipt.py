"""A receipt: one finding with all it was made from, so that it can be made again elsewhere.

The receipts of a review form a chain: each carries the hash of the one before. A hash shows an
edit; it is no signature, so whoever doubts a receipt makes it again from the request it holds.
"""

import hashlib
import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Final

from app.canonical import HASH, canonical, digest, plain
from app.catalogue.document import document_of
from app.catalogue.source import Source
from app.cautions.assess import Found
from app.cautions.rule import Limit
from app.review.as_text import USUAL_CAUTION
from app.review.assess import Review
from app.review.receipts.understood import fluids_of, understood_of

SCHEMA: Final = "ringside-receipt-1"
VERSION_LENGTH: Final = 12

Receipt = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Told:
    """A finding as it was told. only_if: the fluids it holds for, when the name fits several."""

    found: Found
    only_if: tuple[str, ...] = ()


Key = tuple[str, tuple[str, ...], str]


def key_of_found(found: Found) -> Key:
    """What tells a finding from every other of its review."""
    return found.rule.id, found.finding.order_ids, found.finding.summary


def numbers_of(review: Review) -> Mapping[Key, int]:
    """The number of each finding's receipt."""
    return {key_of_found(one.found): number for number, one in enumerate(told_of(review), start=1)}


def told_of(review: Review) -> tuple[Told, ...]:
    """Every finding in the order of their receipts: worst first, then those of only some fluids."""
    depends = (
        Told(found, tuple(fluid.id for fluid in fluids))
        for order in review.orders
        for found, fluids in order.depends
    )
    return (*map(Told, review.all_found), *depends)


def receipts_of(
    request: Mapping[str, Any],
    review: Review,
    versions: Mapping[str, str],
    about: Mapping[str, str] | None = None,
) -> tuple[Receipt, ...]:
    """One receipt a finding, chained.

    request: as received. versions: of all that the review was made with, by name. about: whose
    review it is, as the unit knows the patient. Raises InputError for a request nested too deep.
    """
    whole = plain(
        {
            "made_at": review.case.now,
            "zone": getattr(review.case.now.tzinfo, "key", ""),
            "about": about or {},
            "versions": versions,
            "request": request,
            "understood": understood_of(review.case),
            "fluids": [document_of(fluid) for fluid in fluids_of(review.case)],
            "caution": USUAL_CAUTION,
        }
    )
    name = hashlib.sha256(canonical(whole).encode("utf-8", "surrogatepass")).hexdigest()
    told = told_of(review)
    head = {"schema": SCHEMA, "review": name[:VERSION_LENGTH], "of": len(told)}
    return tuple(_chained(head, told, whole))


def _chained(
    head: Mapping[str, Any], told: tuple[Told, ...], whole: Mapping[str, Any]
) -> Iterator[Receipt]:
    previous = ""
    for number, one in enumerate(told, start=1):
        receipt = {**head, "number": number, "previous": previous, **_finding(one), **whole}
        previous = digest(receipt)
        yield {**receipt, HASH: previous}


def _finding(told: Told) -> dict[str, Any]:
    rule, finding = told.found.rule, told.found.finding
    return {
        "rule_id": rule.id,
        "title": rule.title,
        "level": finding.level,
        "summary": finding.summary,
        "why": finding.why,
        "do": told.found.do,
        "order_ids": list(finding.order_ids),
        "only_if": list(told.only_if),
        "trigger": rule.trigger,
        "unless": rule.unless,
        "evidence": rule.evidence,
        "figures": plain(finding.figures),
        "limits": [_limit(limit, told.found) for limit in rule.limits],
        "sources": [_source(source) for source in rule.sources],
    }


def _limit(limit: Limit, found: Found) -> dict[str, Any]:
    return {
        "name": limit.name,
        "in_force": found.limits[limit.name],
        "shipped": limit.value,
        "unit": limit.unit,
        "meaning": limit.meaning,
        "compared": limit.name in found.finding.limits,
    }


def _source(source: Source) -> dict[str, Any]:
    return {"work": source.work, "place": source.place, "seen": source.seen, "note": source.note}


def key_of(receipt: Mapping[str, Any]) -> tuple[str, tuple[str, ...], tuple[str, ...]]:
    """Which finding it is of, whatever that says: rule, orders, and fluids it depends on."""
    return receipt["rule_id"], tuple(receipt["order_ids"]), tuple(receipt["only_if"])


def file_name(receipt: Mapping[str, Any]) -> str:
    """The name of its file; names in a folder sort by review, then by number."""
    review, number, rule = receipt["review"], receipt["number"], receipt["rule_id"]
    return f"receipt-{review}-{number:03d}-{rule}.json"


def text_of(receipt: Receipt) -> str:
    """The file's text, for people and machines."""
    return json.dumps(receipt, ensure_ascii=False, indent=2) + "\n"
