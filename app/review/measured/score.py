"""The review held against cases that say what it must say, must not say, and where to be quiet."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any, Final

from app.cautions.example import request_of
from app.cautions.rule import LEVELS, Level
from app.intake.errors import InputError, InputErrors
from app.review.assess import Review

GROUPS: Final = ("problem", "look-alike", "sound", "messy")
QUIETEST_LOUD: Final = LEVELS.index("warning")


@dataclass(frozen=True, slots=True)
class Want:
    """What a case wants said: one of these rules, at this level or louder."""

    any_of: tuple[str, ...]
    level: Level

    def __str__(self) -> str:
        return f"{' or '.join(self.any_of)} ({self.level})"


@dataclass(frozen=True, slots=True)
class Vignette:
    """One case. quiet: no rule may speak at warning or above; must_not: these rules may not.

    member: whose way of thinking it was written in. request: as for POST /api/review.
    """

    id: str
    title: str
    group: str
    member: str
    wants: tuple[Want, ...]
    must_not: frozenset[str]
    quiet: bool
    request: Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Scored:
    """A case and what was said of it. said: by rule, the rank of its loudest level.

    refused: why the request was not reviewed at all, empty when it was.
    """

    vignette: Vignette
    said: Mapping[str, int] = field(default_factory=lambda: MappingProxyType({}))
    refused: str = ""

    @property
    def missed(self) -> tuple[Want, ...]:
        """What had to be said and was not, or not loudly enough."""
        return tuple(want for want in self.vignette.wants if not self._says(want))

    def _says(self, want: Want) -> bool:
        rank = LEVELS.index(want.level)
        return any(self.said.get(rule, len(LEVELS)) <= rank for rule in want.any_of)

    @property
    def loud(self) -> frozenset[str]:
        """Rules that spoke at warning or above."""
        return frozenset(rule for rule, rank in self.said.items() if rank <= QUIETEST_LOUD)

    @property
    def false_alarms(self) -> frozenset[str]:
        """Rules that spoke loudly where they must not, or where nothing may."""
        return self.loud if self.vignette.quiet else self.loud & self.vignette.must_not

    @property
    def is_right(self) -> bool:
        """True when all was said that had to be, and nothing loud that must not."""
        return not (self.missed or self.false_alarms or self.refused)


def vignette_of(entry: Mapping[str, Any], member: str) -> Vignette:
    """A case from its TOML table. ValueError says which case has an unknown group or level."""
    wants = tuple(
        Want(tuple(want.get("any_of") or (want["rule"],)), want["level"])
        for want in entry.get("must", ())
    )
    if entry["group"] not in GROUPS or any(want.level not in LEVELS for want in wants):
        raise ValueError(f"case {entry['id']}: group or level is not known")
    return Vignette(
        id=entry["id"],
        title=entry["title"],
        group=entry["group"],
        member=member,
        wants=wants,
        must_not=frozenset(entry.get("must_not", ())),
        quiet=bool(entry.get("quiet", False)),
        request=request_of(entry),
    )


def scored(vignette: Vignette, review_of: Callable[[Mapping[str, Any]], Review]) -> Scored:
    """One case reviewed. review_of: gives the review of a request."""
    try:
        found = review_of(vignette.request).all_found
    except (InputError, InputErrors) as refused:
        return Scored(vignette, refused=str(refused))
    said: dict[str, int] = {}
    for one in found:
        rank = LEVELS.index(one.finding.level)
        said[one.rule.id] = min(rank, said.get(one.rule.id, rank))
    return Scored(vignette, said)
