"""In which order things are done that fall on one minute: what must not stop comes first. Pure."""

from collections.abc import Callable, Iterable, Sequence
from typing import Final

from app.lines.steps import IN_ORDER, Step

CONNECTS: Final = ("move", "start", "resume")


def in_turn(
    steps: Iterable[Step], lumens: Sequence[str], is_urgent: Callable[[str], bool]
) -> tuple[Step, ...]:
    """The steps by the clock; at one minute first the lumens to which something urgent moves, then
    those to which anything moves, so that a lumen is cleared only once what ran there runs on.
    """
    every = tuple(steps)

    def rank(at_min: int, lumen_id: str) -> int:
        here = [one for one in every if (one.at_min, one.lumen_id) == (at_min, lumen_id)]
        if any(one.what in CONNECTS and is_urgent(one.infusion_id or "") for one in here):
            return 0
        return 1 if any(one.what == "move" for one in here) else 2

    places = {name: place for place, name in enumerate(lumens)}
    return tuple(
        sorted(
            every,
            key=lambda one: (
                one.at_min, rank(one.at_min, one.lumen_id),
                places.get(one.lumen_id, len(places)), one.lumen_id, IN_ORDER.index(one.what),
            ),
        )
    )  # fmt: skip
