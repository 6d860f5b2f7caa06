"""What the hospital told of its own sign-in, and which of its groups have which role here."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Final
from urllib.parse import urlsplit

from app.security.acts import Role

LOOPBACK: Final = frozenset({"127.0.0.1", "::1", "localhost"})
USUAL_GROUPS_CLAIM: Final = "groups"


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
