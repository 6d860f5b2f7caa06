"""Machine clients: a bearer token on every call of the outside interface."""

import hmac
from collections.abc import Iterable

BEARER = "bearer "


def token_is_known(header: str | None, tokens: Iterable[str]) -> bool:
    """True when an Authorization header carries one of the tokens, compared in constant time."""
    if not header or not header.lower().startswith(BEARER):
        return False
    given = header[len(BEARER) :].strip().encode()
    # Every token is compared, so that the time taken tells nothing.
    return any([hmac.compare_digest(given, token.encode()) for token in tokens])
