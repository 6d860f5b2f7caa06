"""A plan that was kept, held against the same loss today. Pure."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Final, Literal

Document = Mapping[str, Any]
# order: no longer or newly affected, or otherwise so; use: per day; days: left; second: of what
# everybody turns to.
Kind = Literal["order", "use", "days", "second", "knowledge"]
# Less than this is no difference worth a word: a twentieth.
SAME_WITHIN: Final = 0.05


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing that is not as it was. about: a fluid's id, or (patient, order); was, now: fluids'
    ids, figures or levels, None where there was or is none.
    """

    kind: Kind
    about: tuple[str, ...]
    what: str
    was: object
    now: object


def differences(kept: Document, today: Document) -> tuple[Difference, ...]:
    """What is not as the kept plan has it, orders first."""
    return (
        *_of_orders(kept, today),
        *_of_fluids("use", "ml_day", kept["lasting"], today["lasting"]),
        *_of_fluids("days", "days", kept["lasting"], today["lasting"]),
        *_of_fluids("second", "days", kept["turned"], today["turned"]),
        *_of_knowledge(kept, today),
    )


def _of_orders(kept: Document, today: Document) -> Iterator[Difference]:
    was = {(one["patient"], one["order"]): one for one in kept["orders"]}
    now = {(one["patient"], one["order"]): one for one in today["orders"]}
    for key in dict.fromkeys((*was, *now)):
        before, after = was.get(key), now.get(key)
        if before is None or after is None:
            gone, come = (before or {}).get("standing"), (after or {}).get("standing")
            yield Difference("order", key, "standing", gone, come)
            continue
        for what in ("standing", "to", "new"):
            if before[what] != after[what]:
                yield Difference("order", key, what, before[what], after[what])


def _of_fluids(
    kind: Kind, what: str, kept: list[Document], today: list[Document]
) -> Iterator[Difference]:
    was = {one["fluid"]: one[what] for one in kept}
    now = {one["fluid"]: one[what] for one in today}
    for fluid in dict.fromkeys((*was, *now)):
        before, after = was.get(fluid), now.get(fluid)
        if not _same(before, after):
            yield Difference(kind, (fluid,), what, before, after)


def _same(before: float | None, after: float | None) -> bool:
    if before is None or after is None:
        return before is after
    return abs(before - after) <= SAME_WITHIN * max(abs(before), abs(after))


def _of_knowledge(kept: Document, today: Document) -> Iterator[Difference]:
    if kept["version"] != today["version"]:
        yield Difference("knowledge", (), "version", kept["version"], today["version"])
