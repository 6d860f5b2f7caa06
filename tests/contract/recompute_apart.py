"""Receipts recomputed without the program's own receipt code: `python -m
tests.contract.recompute_apart FOLDER`.

Written from the format alone (DEVELOPERS.md, "Receipts"): the hash is made here by another way of
writing numbers, and the findings are made by running the review on the request. Exit 0 when all is
equal to the digit, else 1 with a line for each receipt that is not.
"""

import hashlib
import json
import sys
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from typing import Any, Final
from zoneinfo import ZoneInfo

from app.cautions.assess import Found
from app.review.knowledge import Knowledge
from app.review.workflow import review_request

MOST_PLACES: Final = 25


def number(value: float) -> str:
    """The fewest decimals that read back as the same number."""
    for places in range(MOST_PLACES):
        text = f"{value:.{places}f}"
        if float(text) == value:
            return "0" if not value else text
    raise ValueError(f"{value!r} is no figure of a bag or a patient")


def written(value: Any) -> str:  # noqa: ANN401 - any JSON value
    """A JSON value as one text."""
    if isinstance(value, float):
        return number(value)
    if isinstance(value, list):
        return f"[{','.join(written(part) for part in value)}]"
    if isinstance(value, dict):
        parts = (f"{json.dumps(k, ensure_ascii=False)}:{written(value[k])}" for k in sorted(value))
        return f"{{{','.join(parts)}}}"
    return json.dumps(value, ensure_ascii=False)


def hash_of(receipt: dict[str, Any]) -> str:
    """SHA-256 of everything but the hash itself."""
    rest = {name: part for name, part in receipt.items() if name != "sha256"}
    return hashlib.sha256(written(rest).encode()).hexdigest()


def faults_of_chain(receipts: list[dict[str, Any]]) -> Iterator[str]:
    """What does not hold of the receipts of one review, in the order of their files."""
    before = ""
    for place, receipt in enumerate(receipts, start=1):
        if hash_of(receipt) != receipt["sha256"]:
            yield f"number {receipt['number']} was edited"
        if receipt["previous"] != before or receipt["number"] != place:
            yield f"number {receipt['number']} stands in place {place} after {before[:8]}"
        before = receipt["sha256"]
    if receipts[0]["of"] != len(receipts):
        yield f"{len(receipts)} of {receipts[0]['of']} are here"


def faults_of_findings(receipts: list[dict[str, Any]], knowledge: Knowledge) -> Iterator[str]:
    """What is not equal to the digit when the review is run again."""
    first = receipts[0]
    moment = datetime.fromisoformat(first["made_at"])
    if first["zone"]:
        moment = moment.astimezone(ZoneInfo(first["zone"]))
    reviewed = review_request(first["request"], knowledge, now=moment)
    depends = [found for order in reviewed.orders for found, _ in order.depends]
    found = [*reviewed.all_found, *depends]
    if len(found) != len(receipts):
        yield f"{len(found)} findings now, {len(receipts)} receipts"
    for receipt, one in zip(receipts, found, strict=False):
        for name, now in said(one).items():
            if written(receipt[name]) != written(json.loads(json.dumps(now))):
                yield f"number {receipt['number']}, {name}: {receipt[name]!r}, now {now!r}"


def said(found: Found) -> dict[str, Any]:
    """What a receipt repeats of a finding."""
    rule, finding = found.rule, found.finding
    return {
        "rule_id": rule.id,
        "title": rule.title,
        "level": finding.level,
        "summary": finding.summary,
        "why": finding.why,
        "do": finding.do or rule.do,
        "figures": dict(finding.figures),
        "limits": [
            {"name": limit.name, "in_force": found.limits[limit.name], "shipped": limit.value,
             "unit": limit.unit, "meaning": limit.meaning, "compared": limit.name in finding.limits}
            for limit in rule.limits
        ],
        "sources": [
            {"work": s.work, "place": s.place, "seen": s.seen, "note": s.note} for s in rule.sources
        ],
    }  # fmt: skip


def faults_of_folder(folder: Path, knowledge: Knowledge) -> tuple[int, list[str]]:
    """How many receipts a folder holds, and all that does not hold of them."""
    reviews: dict[str, list[dict[str, Any]]] = {}
    for path in sorted(folder.glob("*.json")):
        receipt = json.loads(path.read_text(encoding="utf-8"))
        reviews.setdefault(receipt["review"], []).append(receipt)
    faults = [
        f"{review}: {fault}"
        for review, receipts in reviews.items()
        for fault in (*faults_of_chain(receipts), *faults_of_findings(receipts, knowledge))
    ]
    return sum(map(len, reviews.values())), faults


if __name__ == "__main__":
    count, told = faults_of_folder(Path(sys.argv[1]), Knowledge.from_seed())
    print("\n".join(told) or f"{count} receipts equal to the digit")
    sys.exit(1 if told else 0)
