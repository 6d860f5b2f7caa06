"""What the pages of signing in may use."""

from dataclasses import dataclass

from app.storage.people.demo import DEMO_PASSWORD


@dataclass(frozen=True, slots=True)
class DemoSignIn:
    """One of the demo unit's people."""

    sign_in: str
    name: str
    roles: str


@dataclass(frozen=True, slots=True)
class SignInPage:
    """The form. here: it is sent to the very address it stands at; back: where it leads else.

    locked: the person whose session is locked, who needs the password alone; house: where the
    house's own sign-in begins, and apart that it must open beside a page that holds something;
    kept: what was typed before, sealed; first: the command that makes the first account, while
    there is none.
    """

    locked: str = ""
    sign_in: str = ""
    said: str = ""
    lead: str = ""
    back: str = "/"
    here: bool = False
    kept: str = ""
    kept_note: str = ""
    password: bool = True
    house: str = ""
    apart: bool = False
    demo: tuple[DemoSignIn, ...] = ()
    demo_password: str = DEMO_PASSWORD
    first: str = ""


@dataclass(frozen=True, slots=True)
class Panel:
    """The part of every page that asks to sign in again.

    state: "none" where nobody is signed in, "open" where the page watches whether it still is,
    "shut" with the form, "other" when somebody else signed in than the page was made for: that
    is other, and name who did.
    """

    state: str
    form: SignInPage = SignInPage()
    name: str = ""
    other: str = ""
