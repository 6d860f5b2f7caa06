"""What nobody gave and was taken all the same, and starting values that cannot be."""

from dataclasses import dataclass
from typing import Final

OBSERVATIONS: Final = "patient.observations"


class BaselineError(ValueError):
    """A starting value that cannot be with the others."""

    def __init__(self, field: str, value: object, accepted: str) -> None:
        super().__init__(f"{field}: {value}; accepted: {accepted}")
        self.field = field
        self.value = value
        self.accepted = accepted


@dataclass(frozen=True, slots=True)
class Assumed:
    """A value that nobody gave, and why this one was taken."""

    name: str
    value: float
    unit: str
    why: str
