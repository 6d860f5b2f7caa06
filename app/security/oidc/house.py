"""What the hospital told of its own sign-in, and which of its groups have which role here."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Final
from urllib.parse import urlsplit

from app.security.acts import Role

LOOPBACK: Final = frozenset({"127.0.0.1", "::1", "localhost"})
USUAL_GROUPS_CLAIM: Final = "groups"
ISSUER: Final = "RINGSIDE_OIDC_ISSUER"
CLIENT_ID: Final = "RINGSIDE_OIDC_CLIENT_ID"
SECRET: Final = "RINGSIDE_OIDC_CLIENT_SECRET"
ROLES: Final = "RINGSIDE_OIDC_ROLES"
GROUPS: Final = "RINGSIDE_OIDC_GROUPS_CLAIM"
PUBLIC_URL: Final = "RINGSIDE_PUBLIC_URL"
HOUSE_HELP: Final = {
    ISSUER: "the hospital's own sign-in (OpenID Connect), as it calls itself",
    CLIENT_ID: "our name there",
    SECRET: "our secret there",
    ROLES: "which of its groups has which role here: `ward-7-nurses=nurse; pharmacy=pharmacist`",
    GROUPS: "the claim that lists a person's groups; default `groups`",
    PUBLIC_URL: "where browsers find this server; register its /sign-in/house/back there",
}


@dataclass
class HouseError(Exception):
    """Something told of the house's sign-in that cannot be used."""

    field: str
    value: str
    accepted: str

    def __str__(self) -> str:
        return f"{self.field}: {self.value!r} is not accepted; accepted: {self.accepted}"


@dataclass(frozen=True, slots=True)
class House:
    """The hospital's own sign-in. secret stays out of every printed form.

    issuer: the provider's address; public_url: where browsers find this server; groups_claim: the
    claim that lists a person's groups, with dots for a claim within another.
    """

    issuer: str
    client_id: str
    public_url: str
    roles: Mapping[str, Role]
    secret: str = field(default="", repr=False)
    groups_claim: str = USUAL_GROUPS_CLAIM

    @property
    def return_address(self) -> str:
        """Where the provider sends the browser back to; to be registered there to the letter."""
        return f"{self.public_url}/sign-in/house/back"

    def roles_of(self, groups: Iterable[str]) -> frozenset[Role]:
        """The roles that somebody in these groups has here; none when no group is told of."""
        return frozenset(self.roles[group] for group in groups if group in self.roles)


def house_told(given: Mapping[str, str]) -> House | None:
    """The house's sign-in as the environment tells of it; None when it tells of none.

    Raises HouseError for a half-told one: it would let nobody in, or anybody.
    """
    told = {name: given.get(name, "").strip() for name in HOUSE_HELP}
    if not any(told.values()):
        return None
    for name in (ISSUER, CLIENT_ID, PUBLIC_URL, ROLES):
        if not told[name]:
            others = ", ".join(sorted(other for other in told if told[other]))
            raise HouseError(name, "", f"something, as {others} is set")
    return House(
        issuer=sound_address(ISSUER, told[ISSUER]),
        client_id=told[CLIENT_ID],
        public_url=sound_address(PUBLIC_URL, told[PUBLIC_URL]).rstrip("/"),
        roles=roles_of_groups(ROLES, told[ROLES]),
        secret=given.get(SECRET, "").strip(),
        groups_claim=told[GROUPS] or USUAL_GROUPS_CLAIM,
    )


def sound_address(name: str, text: str) -> str:
    """An address that secrets may travel to, to the letter: https, or this machine itself.

    Raises HouseError.
    """
    parts = urlsplit(text)
    safe = parts.scheme == "https" or (parts.scheme == "http" and parts.hostname in LOOPBACK)
    if not safe or not parts.hostname or parts.query or parts.fragment or parts.username:
        raise HouseError(name, text, "an address that begins with https://, without ? or #")
    return text


def roles_of_groups(name: str, text: str) -> Mapping[str, Role]:
    """`group=role` pairs parted by semicolons: "ward-7-nurses=nurse; pharmacy=pharmacist".

    A group may be an LDAP name with equals signs in it: the role stands after the last one.
    Raises HouseError for a pair without a role, or with one that is not ours.
    """
    accepted = f"group=role pairs parted by semicolons, a role being {', '.join(Role)}"
    roles: dict[str, Role] = {}
    for pair in filter(None, map(str.strip, text.split(";"))):
        group, equals, role = (part.strip() for part in pair.rpartition("="))
        if not equals or not group or role not in set(Role):
            raise HouseError(name, pair, accepted)
        if group in roles and roles[group] != role:
            raise HouseError(name, pair, f"{accepted}; each group once")
        roles[group] = Role(role)
    if not roles:
        raise HouseError(name, text, accepted)
    return MappingProxyType(roles)
