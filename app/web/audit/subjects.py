"""What an act is about: in words, with the page that shows it, and who may read of it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Final

from app.catalogue.catalogue import Catalogue
from app.cautions.registry import RULE_BY_ID
from app.cautions.rule import Limit
from app.security.acts import Role
from app.security.person import Person
from app.web.show import unit_text

# Acts on what is advised and offered, which a pharmacist answers for.
CONTENT: Final = frozenset(
    {
        *("fluid", "limit", "rule", "pair-note", "stock", "plan", "change", "replay", "sample"),
        *("release", "trail"),
    }
)
PEOPLE: Final = frozenset({"account", "token", "session", "patients"})
BEDSIDE: Final = frozenset({"lumen"})
KINDS: Final = CONTENT | PEOPLE | BEDSIDE


@dataclass(frozen=True, slots=True)
class Named:
    """A subject in words. href: empty where no page shows it. unit: of a limit's value."""

    words: str
    href: str = ""
    kind: str = ""
    unit: str = ""
    shipped: float | None = None


def kinds_for(person: Person) -> frozenset[str] | None:
    """The kinds of subject somebody may read of; None: all there are."""
    return None if Role.ADMINISTRATOR in person.roles else CONTENT


def limit_of(rest: str) -> Limit | None:
    """A limit by "RULE/NAME", None when the release no longer has it."""
    rule_id, _, name = rest.partition("/")
    rule = RULE_BY_ID.get(rule_id)
    return next((limit for limit in rule.limits if limit.name == name), None) if rule else None


def named(subject: str, catalogue: Catalogue) -> Named:
    """A subject "kind:id" in words."""
    kind, _, rest = subject.partition(":")
    if kind in ("fluid", "stock"):
        fluid = catalogue.get(rest)
        words = fluid.name if fluid else rest
        return Named(words, f"/catalogue/{rest}" if fluid else "", kind)
    tell = NAMES.get(kind)
    return replace(tell(rest), kind=kind) if tell else Named(subject)


def _limit(rest: str) -> Named:
    limit = limit_of(rest)
    unit = unit_text(limit.unit) if limit else ""
    return Named(
        f"limit {rest}",
        f"/rules/{rest.partition('/')[0]}" if limit else "",
        unit=unit,
        shipped=limit.value if limit else None,
    )


def _rule(rest: str) -> Named:
    return Named(f"rule {rest}", f"/rules/{rest}" if rest in RULE_BY_ID else "")


NAMES: Final[Mapping[str, Callable[[str], Named]]] = {
    "limit": _limit,
    "rule": _rule,
    "change": lambda rest: Named(f"change {rest}", f"/changes/{rest}"),
    "pair-note": lambda rest: Named(f"local note {rest} on a pair"),
    "plan": lambda rest: Named(f"shortage plan {rest}", f"/shortage/plans/{rest}"),
    "replay": lambda rest: Named(f"replay {rest}"),
    "sample": lambda rest: Named(f"sample {rest}"),
    "release": lambda _rest: Named("its files"),
    "account": lambda rest: Named(f"the account {rest}"),
    "token": lambda rest: Named(f"machine token {rest}"),
    "session": lambda _rest: Named("a session"),
    # The bed stays out of the sentence: this page is about content.
    "lumen": lambda _rest: Named("a lumen"),
    "trail": lambda _rest: Named("the trail of acts"),
}
