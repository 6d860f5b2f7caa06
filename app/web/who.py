"""Who asks for a page."""

from typing import Final

from fastapi import HTTPException, Request

from app.security.acts import Act
from app.security.person import Person

SIGNED_OUT: Final = 401


def person_of(request: Request) -> Person | None:
    """The person signed in, None when nobody is."""
    person = getattr(request.state, "person", None)
    return person if isinstance(person, Person) else None


def signed_in(request: Request) -> Person:
    """The person signed in; whoever is not is asked to."""
    person = person_of(request)
    if person is None:
        raise HTTPException(SIGNED_OUT, "Sign in first.")
    return person


def sees_patients(request: Request) -> bool:
    """Whether patients of the unit may be named to whoever asks."""
    return may(request, Act.SEE_PATIENTS)


def may(request: Request, act: Act) -> bool:
    """Whether somebody is signed in who may do this."""
    person = person_of(request)
    return person is not None and person.may(act)
