"""One timed result."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

# How old a result may be and still be judged by. Local settings; common practice, no source.
FRESH_FOR: Final = {
    "default": timedelta(hours=24),
    "ph": timedelta(hours=12), "pco2": timedelta(hours=12), "base_excess": timedelta(hours=12),
    "lactate": timedelta(hours=12), "glucose": timedelta(hours=12),
    "calcium_ionised": timedelta(hours=12), "ketones": timedelta(hours=12),
    "creatinine": timedelta(hours=48), "egfr": timedelta(hours=48), "urea": timedelta(hours=48),
    "albumin": timedelta(days=7), "inr": timedelta(hours=48),
    "haemoglobin": timedelta(hours=48), "haematocrit": timedelta(hours=48),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Observation:
    """One result in the project's unit for its analyte.

    value is None when the result cannot be used; doubt then says why (wrong unit, not
    physiological, haemolysed), in words a person can act on. as_written keeps what was received.
    converted: what was done to get here ("180 mg/dL read as 10 mmol/L"), empty when nothing.
    """

    name: str
    value: float | None
    unit: str
    taken_at: datetime | None
    as_written: str = ""
    doubt: str = ""
    converted: str = ""

    def age(self, now: datetime) -> timedelta | None:
        """Age at `now`; None when the time taken is not known."""
        return None if self.taken_at is None else now - self.taken_at

    def is_stale(self, now: datetime) -> bool:
        """True when older than the analyte's limit; a result without a time is not called stale."""
        age = self.age(now)
        return age is not None and age > FRESH_FOR.get(self.name, FRESH_FOR["default"])
