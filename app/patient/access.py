"""Where it runs."""

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class Lumen:
    """One lumen or cannula: id as the ward calls it, peripheral or central, role if reserved."""

    id: str
    site: Literal["peripheral", "central"] | None
    role: str = ""
