"""The corner of every page that says who is signed in, and which places are open to them."""

from dataclasses import dataclass
from typing import Final

from fastapi import Request

from app.security.acts import Act, Role
from app.security.gate import Gate, Need, Open
from app.security.person import Person
from app.security.standing import NOBODY, Standing
from app.settings import Settings

GATE: Final = Gate()
LINKS: Final = (
    ("/account", "Your account"),
    ("/accounts", "Accounts"),
    ("/accounts/tokens", "Tokens of machines"),
    ("/audit", "Acts on content"),
    ("/who-may", "Who may do what"),
)

# Whoever may approve is led to what waits for a second person from every page.
TO_DECIDE: Final = ("/changes?state=draft", "Changes to decide")


@dataclass(frozen=True, slots=True)
class Menu:
    """What the header says of the person. name: empty while nobody is signed in; home: the first
    page they may see.
    """

    name: str = ""
    roles: str = ""
    links: tuple[tuple[str, str], ...] = ()
    home: str = "/"


def standing_in(request: Request) -> Standing:
    """Where the browser stands, as the door found it."""
    standing = getattr(request.state, "standing", None)
    return standing if isinstance(standing, Standing) else NOBODY


def menu_of(request: Request) -> Menu:
    """The account menu of this request."""
    person = standing_in(request).present
    if person is None:
        return Menu()
    links = tuple(one for one in LINKS if may_open(request, one[0]))
    if person.may(Act.APPROVE):
        links = (TO_DECIDE, *links)
    return Menu(person.name, roles_text(person.roles), links, home_of(person))


def may_open(request: Request, path: str) -> bool:
    """Whether whoever asks may open this address of ours."""
    settings = getattr(request.app.state, "settings", None) or Settings()
    return admits(GATE.find("GET", path).need, standing_in(request).present, settings)


def leads_on(request: Request, path: str) -> bool:
    """Whether a link to this address is no dead end: nobody signed in is asked to sign in first."""
    return standing_in(request).present is None or may_open(request, path)


def admits(need: Need | None, person: Person | None, settings: Settings) -> bool:
    """Whether a need is met by this person, or by anyone."""
    if need is Open.ALL or (need is Act.READ_CATALOGUE and settings.open_reading):
        return True
    if person is None or need is None:
        return False
    return need is Open.SIGNED_IN or (isinstance(need, Act) and person.may(need))


def roles_text(roles: frozenset[Role]) -> str:
    """ "nurse and pharmacist", in the table's order."""
    names = [role.value for role in Role if role in roles]
    return listed(names) or "no role"


def listed(words: list[str], joined: str = "and") -> str:
    """ "a, b and c"."""
    if len(words) < 2:  # noqa: PLR2004 - one word joins nothing
        return "".join(words)
    return f"{', '.join(words[:-1])} {joined} {words[-1]}"


def home_of(person: Person) -> str:
    """The first page somebody wants to see."""
    if person.may(Act.SEE_PATIENTS):
        return "/"
    return "/accounts" if person.may(Act.MANAGE_ACCOUNTS) else "/compare"
