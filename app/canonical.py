"""One text for one content, so that a hash made elsewhere is the same (RFC 8785).

Keys sorted, no blanks, strings escaped as little as JSON allows, and every number in the shortest
digits that read back, as ECMAScript writes them: 60 and 60.0 are one number and one text.
"""

import hashlib
import json
import math
from collections.abc import Mapping
from datetime import date, datetime, time
from decimal import Decimal
from typing import Any, Final

from app.intake.errors import InputError

HASH: Final = "sha256"
DEEPEST: Final = 64
# Between these, ECMAScript writes a number without an exponent.
POSITIONAL_FROM: Final = 1e-6
POSITIONAL_BELOW: Final = 1e21


def plain(value: Any, depth: int = 0) -> Any:  # noqa: ANN401 - any value of a request or a finding
    """The value as JSON carries it: times as text, every sequence a list, every key a text.

    Numbers that JSON has no words for (infinite, not a number) become text. Raises InputError for
    what is nested deeper than any request.
    """
    if depth > DEEPEST:
        raise InputError("request", "…", f"parts within parts at most {DEEPEST} deep")
    if isinstance(value, Mapping):
        return {str(key): plain(part, depth + 1) for key, part in value.items()}
    if isinstance(value, list | tuple):
        return [plain(part, depth + 1) for part in value]
    if isinstance(value, frozenset | set):
        return sorted(map(str, value))
    if isinstance(value, datetime | date | time):
        return value.isoformat()
    if isinstance(value, float) and not math.isfinite(value):
        return str(value)
    return value


def canonical(value: Any) -> str:  # noqa: ANN401 - any JSON value
    """The canonical text of a JSON value. Raises TypeError for anything else."""
    if isinstance(value, dict):
        keys = sorted(value, key=lambda key: key.encode("utf-16-be", "surrogatepass"))
        return "{" + ",".join(f"{canonical(key)}:{canonical(value[key])}" for key in keys) + "}"
    if isinstance(value, list):
        return "[" + ",".join(map(canonical, value)) + "]"
    if isinstance(value, float):
        return number_text(value)
    if value is None or isinstance(value, str | bool | int):
        return json.dumps(value, ensure_ascii=False)
    raise TypeError(f"{type(value).__name__} is no JSON value")


def number_text(value: float) -> str:
    """A number in the shortest digits that read back, as ECMAScript writes it."""
    size, text = abs(value), repr(value)
    if not size:
        return "0"
    if POSITIONAL_FROM <= size < POSITIONAL_BELOW:
        return format(Decimal(text), "f").removesuffix(".0")
    digits, _, exponent = text.partition("e")
    return f"{digits}e{int(exponent):+d}"


def digest(document: Mapping[str, Any]) -> str:
    """SHA-256, in hex, of everything in a document but its own hash."""
    rest = {key: part for key, part in document.items() if key != HASH}
    return hashlib.sha256(canonical(rest).encode("utf-8", "surrogatepass")).hexdigest()
