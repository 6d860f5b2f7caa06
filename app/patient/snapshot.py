"""What is known at the bedside at one moment."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from types import MappingProxyType
from typing import Final, Literal

from app.patient.access import Lumen
from app.patient.known import NotKnown, known
from app.patient.observation import Observation

Setting = Literal["adult ward", "ICU", "ED", "theatre", "paediatric", "neonate"]
ADULT_FROM_YEARS: Final = 16.0
NEONATE_TO_DAYS: Final = 28.0
DAYS_PER_YEAR: Final = 365.25
MINUTES_PER_HOUR: Final = 60


@dataclass(frozen=True, slots=True)
class Words:
    """Free words as understood: keys found, keys denied ("no kidney disease"), words not read."""

    found: frozenset[str] = frozenset()
    denied: frozenset[str] = frozenset()
    unread: tuple[str, ...] = ()
    detail: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))

    def __contains__(self, key: str) -> bool:
        return key in self.found

    @property
    def as_written(self) -> tuple[str, ...]:
        """What was understood, in the words it was written in, each once; for people to read."""
        found = sorted(self.found)
        return tuple(dict.fromkeys(self.detail.get(key, key.replace("_", " ")) for key in found))

    def any_of(self, *keys: str) -> bool:
        """True when any of these was found."""
        return not self.found.isdisjoint(keys)


@dataclass(frozen=True, slots=True)
class Snapshot:
    """One patient at `now`. Every field that may be missing is None, never a default.

    results: observations by name, newest first.
    """

    now: datetime
    setting: Setting | None = None
    age_years: float | None = None
    sex: Literal["female", "male"] | None = None
    weight_kg: float | None = None
    height_cm: float | None = None
    conditions: Words = Words()
    medications: Words = Words()
    results: Mapping[str, tuple[Observation, ...]] = field(
        default_factory=lambda: MappingProxyType({})
    )
    urine_ml_h: float | None = None
    balance_24h_ml: float | None = None
    access: tuple[Lumen, ...] = ()
    weight_taken_at: datetime | None = None

    def result(self, name: str) -> Observation:
        """The newest usable result of this name; NotKnown when missing, stale or suspect."""
        observations = self.results.get(name, ())
        if not observations:
            raise NotKnown(name, "missing", f"no {name.replace('_', ' ')} result")
        newest = observations[0]
        if newest.value is None:
            raise NotKnown(name, "suspect", newest.doubt)
        if newest.is_stale(self.now):
            raise NotKnown(
                name, "stale", f"last {name.replace('_', ' ')} is {self.age_text(newest)} old"
            )
        return newest

    def value(self, name: str) -> float:
        """The newest usable value of this name in the project's unit; NotKnown otherwise."""
        return known(self.result(name).value, name)

    def value_or_none(self, name: str) -> float | None:
        """As value(), or None: only for exceptions that a missing value must not block."""
        try:
            return self.value(name)
        except NotKnown:
            return None

    def age_text(self, observation: Observation) -> str:
        """How old a result is, as people say it: "40 min", "3 h 10 min", "2 days"."""
        age = observation.age(self.now)
        if age is None:
            return "of unknown age"
        minutes = int(age.total_seconds() // MINUTES_PER_HOUR)
        hours, rest = divmod(minutes, MINUTES_PER_HOUR)
        if hours >= 48:  # noqa: PLR2004 - from two days on, days read better than hours
            return f"{hours // 24} days"
        if not hours:
            return f"{rest} min"
        return f"{hours} h {rest} min" if rest else f"{hours} h"

    def is_neonate(self) -> bool:
        """True to 28 days of age, by age or else by setting; NotKnown when neither is given."""
        if self.age_years is not None:
            return self.age_years * DAYS_PER_YEAR <= NEONATE_TO_DAYS
        return known(self.setting, "age_years") == "neonate"

    def is_child(self) -> bool:
        """True under 16 years, newborns included; by setting when no age is given."""
        if self.age_years is not None:
            return self.age_years < ADULT_FROM_YEARS
        return known(self.setting, "age_years") in ("paediatric", "neonate")

    def is_adult(self) -> bool:
        """True from 16 years; by setting when no age is given."""
        return not self.is_child()

    def lumen(self, lumen_id: str | None) -> Lumen | None:
        """The lumen with this id, or None."""
        return next((lumen for lumen in self.access if lumen.id == lumen_id), None)
