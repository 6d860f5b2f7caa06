"""Whatever a system sends, it gets a review or a clear refusal: never a fault."""

import json
from collections.abc import Iterator
from copy import deepcopy
from random import Random
from typing import Any, Final

import pytest

from app.intake.errors import InputError, InputErrors
from app.review.knowledge import Knowledge
from app.review.reply import reply_of
from app.review.workflow import review_request
from tests.cases.score import cases

KNOWN = Knowledge.from_seed()
REQUESTS = [case.request for case in cases()]
TRIES: Final = 150
WORDS: Final = (
    "", "  ", "0", "-5", "1e309", "NaN", "½ NS", "1 L over 0", "q0h", "0.0000001", "∞", "a" * 3000,
    "80 mL/kg/day", "x mL/h", "10%", "mEq", "100/hr x 24h", "2 amps", "<5", "5,9", "5.9.1",
    "haemolysed", "2031-02-30T00:00:00Z", "2031-03-04", "over 0 h", "1/0", "0/0 saline",
    "D5½NS + 20KCl @ 100", "no", "?", "1:1000", "(", "[a-", "\\", "%s", "{}",
)  # fmt: skip
VALUES: Final = (
    None, True, False, 0, -1, 1e308, -1e308, 1e-308, float("inf"), float("nan"), 10**30,
    {}, [], [[]], [None], "x", 0.1, 999999,
)  # fmt: skip
FACTORS: Final = (0, -1, 10, 1000, 0.001, 1e12)
PIECES: Final = (*WORDS, *" /.-%()0123456789+,;:'kmLgh")

Path = tuple[str | int, ...]


def paths(value: Any, path: Path = ()) -> Iterator[Path]:  # noqa: ANN401
    """Where each value of a JSON document stands."""
    if path:
        yield path
    if isinstance(value, dict | list):
        inside = value.items() if isinstance(value, dict) else enumerate(value)
        for key, held in inside:
            yield from paths(held, (*path, key))


def spoilt(request: dict[str, Any], chance: Random) -> dict[str, Any]:
    """The request with one to six of its values left out, replaced or changed a little."""
    document = deepcopy(request)
    for _ in range(chance.choice((1, 1, 2, 3, 6))):
        *way, last = chance.choice(list(paths(document)) or [("orders",)])
        holder: Any = document
        for key in way:
            holder = holder[key]
        spoil(holder, last, chance)
    return document


def spoil(holder: Any, key: Any, chance: Random) -> None:  # noqa: ANN401
    """One value left out, replaced, multiplied or with something written into it."""
    now = holder[key] if isinstance(holder, list) else holder.get(key)
    kind = chance.randrange(4)
    if kind == 0 and isinstance(holder, dict):
        holder.pop(key, None)
    elif kind == 1 and isinstance(now, int | float):
        holder[key] = now * chance.choice(FACTORS)
    elif kind <= 2 and isinstance(now, str):
        at = chance.randrange(len(now) + 1)
        holder[key] = now[:at] + chance.choice(PIECES) + now[at:]
    elif kind == 2 and isinstance(now, list) and now:
        now.append(deepcopy(now[-1]))
    else:
        holder[key] = chance.choice(chance.choice((WORDS, VALUES)))


@pytest.mark.parametrize("seed", range(20))
def test_a_spoilt_request_is_reviewed_or_refused_by_field(seed: int) -> None:
    chance = Random(seed)
    reviewed = 0
    for _ in range(TRIES):
        request = spoilt(chance.choice(REQUESTS), chance)
        try:
            review = review_request(request, KNOWN)
        except (InputError, InputErrors) as refused:
            assert all(error.field for error in getattr(refused, "errors", (refused,)))
            continue
        reviewed += 1
        json.dumps(
            reply_of(review, KNOWN.catalogue, KNOWN.ruleset, KNOWN.vehicles), allow_nan=False
        )
        assert all(0 < len(found.finding.summary) <= 139 for found in review.all_found)
    assert reviewed > TRIES // 5
