"""Receipts made again from the requests they hold: the same to the digit, or where not."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Any, Final, Literal

from app.canonical import HASH, canonical
from app.catalogue.catalogue import Catalogue
from app.intake.errors import InputError, InputErrors
from app.review.knowledge import Knowledge
from app.review.receipts.reading import Kept
from app.review.receipts.receipt import Receipt, key_of, receipts_of
from app.review.receipts.versions import versions_of
from app.review.workflow import review_request

State = Literal["same", "differs", "edited", "broken"]
# What says where a receipt stands and what it was made with, not what was found.
PLACE: Final = frozenset({"review", "number", "of", "previous", "versions", HASH})
MOST_SHOWN: Final = 60
Differences = tuple[str, ...]
Then = Callable[[Kept], Knowledge | None]


@dataclass(frozen=True, slots=True)
class Verdict:
    """What came of one receipt, or of the chain it stands in. text: one line for people."""

    name: str
    state: State
    text: str

    def __str__(self) -> str:
        return f"{self.name}: {self.text}"


def recomputed(
    receipts: Iterable[Kept], knowledge: Knowledge, *, whole: bool, then: Then | None = None
) -> tuple[Verdict, ...]:
    """Each receipt made again with the knowledge it was made with, in the order given.

    knowledge: what is at hand now. then: finds what was in force when a receipt was made, where
    the database still tells. whole: the receipts are said to be all of their reviews, in order, so
    a gap is told.
    """
    of = then or nothing_of_then
    groups: dict[str, list[Kept]] = {}
    for receipt in receipts:
        groups.setdefault(receipt.document["review"], []).append(receipt)
    return tuple(
        verdict for group in groups.values() for verdict in _review(group, knowledge, whole, of)
    )


def nothing_of_then(_receipt: Kept) -> Knowledge | None:
    """Where no database tells what was in force before."""
    return None


def _review(
    group: Sequence[Kept], knowledge: Knowledge, whole: bool, then: Then
) -> Iterator[Verdict]:
    yield from (_verdict(receipt, knowledge, then) for receipt in group)
    if whole:
        yield from chain_faults(group)


def chain_faults(group: Sequence[Kept]) -> Iterator[Verdict]:
    """What is missing, doubled, out of its place, or does not follow the receipt before it."""
    name = f"review {group[0].document['review']}"
    total = max(receipt.document["of"] for receipt in group)
    at = {receipt.number: receipt for receipt in group}
    lost = total - sum(1 <= number <= total for number in at)
    if lost:
        yield Verdict(name, "broken", f"{lost} of its {total} receipts are not here")
    for before, receipt in pairwise(group):
        if receipt.number <= before.number:
            text = f"number {receipt.number} stands after number {before.number}"
            yield Verdict(receipt.name, "broken", text)
    for number, receipt in sorted(at.items()):
        if number > 1 and number - 1 not in at:
            continue
        due = at[number - 1].document[HASH] if number > 1 else ""
        if receipt.document["previous"] != due:
            text = f"does not follow number {number - 1} of its review"
            yield Verdict(receipt.name, "broken", text)


def _verdict(receipt: Kept, at_hand: Knowledge, then: Then) -> Verdict:
    if receipt.is_edited:
        text = "its hash does not fit: edited after it was made, so not made again"
        return Verdict(receipt.name, "edited", text)
    found_then = then(receipt) if has_other_content(receipt, at_hand) else None
    knowledge = found_then or at_hand
    others = other_versions(receipt, knowledge)
    try:
        found = _as_then(receipt, knowledge) if others else _as_now(receipt, knowledge)
    except (InputError, InputErrors) as refused:
        return Verdict(receipt.name, "differs", f"its request is refused now: {refused}")
    state: State = "differs" if found else "same"
    told = f"differs: {'; '.join(found)}" if found else "same to the digit"
    if found_then is not None:
        told = f"{told}, with the fluids and limits that were in force then"
    if others:
        told = f"made with another {', '.join(others)}; with its own limits and fluids {told}"
    return Verdict(receipt.name, state, told)


def has_other_content(receipt: Kept, knowledge: Knowledge) -> bool:
    """Whether it was made with other rules, limits or fluids than those at hand."""
    then = receipt.document["versions"]
    now = {"ruleset": knowledge.ruleset.version, "catalogue": knowledge.catalogue.version}
    return any(then.get(part) != version for part, version in now.items())


def other_versions(receipt: Kept, knowledge: Knowledge) -> tuple[str, ...]:
    """What it was made with that is not at hand: "ruleset 1a2b (at hand 3c4d)"."""
    then = receipt.document["versions"]
    return tuple(
        f"{part} {then.get(part)} (at hand {version})"
        for part, version in versions_of(knowledge).items()
        if then.get(part) != version
    )


def _as_now(receipt: Kept, knowledge: Knowledge) -> Differences:
    """Where the receipt differs from its namesake made again; the place in the chain counts."""
    again = made_again(receipt, knowledge)
    if not 1 <= receipt.number <= len(again):
        return (f"number {receipt.number}: {len(again)} findings now",)
    return tuple(differences(receipt.document, again[receipt.number - 1]))


def _as_then(receipt: Kept, knowledge: Knowledge) -> Differences:
    """Where the finding differs when made with the limits and fluids that the receipt holds."""
    again = made_again(receipt, knowledge_then(receipt, knowledge))
    now = next((one for one in again if key_of(one) == key_of(receipt.document)), None)
    if now is None:
        return (f"{receipt.rule_id} does not speak now",)
    return tuple(differences(_content(receipt.document), _content(now)))


def _content(document: Receipt) -> Receipt:
    return {field: part for field, part in document.items() if field not in PLACE}


def knowledge_then(receipt: Kept, knowledge: Knowledge) -> Knowledge:
    """The knowledge at hand with the receipt's limits for its rule, and its fluids."""
    own = {fluid.id: fluid for fluid in receipt.fluids}
    here = tuple(own.pop(fluid.id, fluid) for fluid in knowledge.catalogue)
    limits = dict(knowledge.ruleset.limits)
    limits[receipt.rule_id] = {**limits.get(receipt.rule_id, {}), **receipt.limits}
    return replace(
        knowledge,
        catalogue=Catalogue((*here, *own.values())),
        ruleset=replace(knowledge.ruleset, limits=limits),
    )


def made_again(receipt: Kept, knowledge: Knowledge) -> tuple[Receipt, ...]:
    """All receipts of the review that its request gives. Raises InputError or InputErrors."""
    document = receipt.document
    reviewed = review_request(document["request"], knowledge, now=receipt.made_at)
    versions = versions_of(knowledge)
    return receipts_of(document["request"], reviewed, versions, document["about"])


def differences(then: Any, now: Any, path: str = "") -> Iterator[str]:  # noqa: ANN401 - any JSON
    """Each place where two JSON values differ: path, what was, what is."""
    if isinstance(then, dict) and isinstance(now, dict):
        for key in dict.fromkeys((*then, *now)):
            at = f"{path}.{key}" if path else key
            yield from differences(then.get(key), now.get(key), at)
    elif isinstance(then, list) and isinstance(now, list) and len(then) == len(now):
        for number, (old, new) in enumerate(zip(then, now, strict=True)):
            yield from differences(old, new, f"{path}[{number}]")
    elif canonical(then) != canonical(now):
        yield f"{path}: {_shown(then)} in the receipt, {_shown(now)} now"


def _shown(value: Any) -> str:  # noqa: ANN401 - any JSON value
    text = canonical(value)
    return text if len(text) <= MOST_SHOWN else f"{text[:MOST_SHOWN]}…"
