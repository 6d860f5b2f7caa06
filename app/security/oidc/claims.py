"""What the house's sign-in says of a person, believed only when its signature holds."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, Final

from authlib.oidc.core.claims import CodeIDToken
from joserfc import jwt
from joserfc.errors import JoseError
from joserfc.jwk import KeySet

from app.security.oidc.house import House

# Signatures only a private key can make: none of "none", and no secret that both sides hold.
SIGNATURES: Final = (
    "RS256",
    "RS384",
    "RS512",
    "PS256",
    "PS384",
    "PS512",
    "ES256",
    "ES384",
    "EdDSA",
)
CLOCKS_DIFFER_S: Final = 60
LONGEST_NAME: Final = 80


@dataclass
class NotBelieved(Exception):
    """What was sent is not from the house's sign-in, or not for us, or not for this browser."""

    why: str

    def __str__(self) -> str:
        return self.why


@dataclass(frozen=True, slots=True)
class Told:
    """What the house says of a person. subject: who they are there, for ever the same."""

    subject: str
    name: str
    sign_in: str
    groups: tuple[str, ...]


def believed(
    id_token: str, keys: Mapping[str, Any], house: House, *, now_s: int, nonce: str | None
) -> Told:
    """The claims of an ID token, checked by OpenID Connect Core 1.0 section 3.1.3.7.

    keys: the provider's JWK set; now_s: seconds since 1970; nonce: the one sent out with this
    browser, None when a token was asked for again. Raises NotBelieved.
    """
    claims = _signed_claims(id_token, keys)
    try:
        _check(claims, house, now_s, nonce)
    except JoseError as error:
        raise NotBelieved(f"its ID token was refused ({error})") from error
    return told_of(claims, house)


def _signed_claims(id_token: str, keys: Mapping[str, Any]) -> CodeIDToken:
    try:
        token = jwt.decode(id_token, KeySet.import_key_set(dict(keys)), list(SIGNATURES))  # type: ignore[arg-type]
    except (JoseError, ValueError, KeyError, TypeError) as error:
        raise NotBelieved(f"its signature does not hold ({type(error).__name__})") from error
    return CodeIDToken(token.claims, token.header, options={}, params={})


def _check(claims: CodeIDToken, house: House, now_s: int, nonce: str | None) -> None:
    claims.options = {
        "iss": {"essential": True, "value": house.issuer},
        "aud": {"essential": True, "value": house.client_id},
        "sub": {"essential": True},
    }
    claims.params = {"client_id": house.client_id, "nonce": nonce}
    claims.validate(now=now_s, leeway=CLOCKS_DIFFER_S)


def told_of(claims: Mapping[str, Any], house: House) -> Told:
    """A person as the claims describe them. Raises NotBelieved when nobody is named."""
    subject = claims.get("sub")
    if not isinstance(subject, str) or not subject:
        raise NotBelieved("it names nobody")
    sign_in = _text(claims, ("preferred_username", "email")) or subject
    name = _text(claims, ("name", "preferred_username", "email")) or subject
    return Told(subject, name[:LONGEST_NAME], sign_in[:LONGEST_NAME], _groups(claims, house))


def _text(claims: Mapping[str, Any], names: Iterable[str]) -> str:
    found = (claims.get(name) for name in names)
    return next((one.strip() for one in found if isinstance(one, str) and one.strip()), "")


def _groups(claims: Mapping[str, Any], house: House) -> tuple[str, ...]:
    """The listed groups; one group may be told as a word by itself."""
    found: Any = claims
    for step in house.groups_claim.split("."):
        found = found.get(step) if isinstance(found, Mapping) else None
    listed = [found] if isinstance(found, str) else found
    return tuple(g for g in listed if isinstance(g, str)) if isinstance(listed, list) else ()
