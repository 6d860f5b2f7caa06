"""Somebody who is signed in."""

from dataclasses import dataclass

from app.security.acts import MAY, Act, Role


@dataclass(frozen=True, slots=True)
class Person:
    """Who asks. name: as others read it; via: "local", or the house's own sign-in, "oidc"."""

    account_id: str
    name: str
    roles: frozenset[Role]
    via: str

    def may(self, act: Act) -> bool:
        """True when any of the roles may do it."""
        return any(act in MAY[role] for role in self.roles)
