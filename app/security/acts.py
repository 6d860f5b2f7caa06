"""Who may do what: the one table, in words that a person reads on /who-may."""

from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType
from typing import Final, Self


class Role(StrEnum):
    """What somebody is here. A person may be several."""

    NURSE = "nurse"
    PRESCRIBER = "prescriber"
    EDUCATOR = "educator"
    PHARMACIST = "pharmacist"
    ADMINISTRATOR = "administrator"


class Act(StrEnum):
    """Something a role may do. says: the act in words that follow "may"."""

    says: str

    def __new__(cls, value: str, says: str) -> Self:
        """The act's own name, with its words."""
        act = str.__new__(cls, value)
        act._value_ = value
        act.says = says
        return act

    READ_CATALOGUE = (
        "read-catalogue",
        "read fluids, pairs, rules and formulas, compare, and predict from typed figures",
    )
    SEE_PATIENTS = "see-patients", "see patients of the unit"
    TRY_ORDERS = "try-orders", "have an order reviewed before it is given"
    TELL = "tell", "tell where a fluid is, which lumen failed, and what was replied"
    SIGN_NOTES = "sign-notes", "sign notes that two things may run together here"
    DRAFT = "draft", "draft a change of a fluid, a limit or a rule"
    APPROVE = "approve", "approve a change that somebody else drafted"
    REPLAY = "replay", "run a change on past orders"
    REHEARSE = "rehearse", "rehearse a shortage"
    MARK = "mark", "mark sampled findings as right or wrong"
    READ_BURDEN = "read-burden", "read how often the rules speak"
    READ_AUDIT = "read-audit", "read the trail of acts"
    MANAGE_ACCOUNTS = "manage-accounts", "add accounts, change their roles, and end them"
    MANAGE_TOKENS = "manage-tokens", "make and end tokens of machine clients"
    PURGE = "purge", "remove what is kept no longer"


class Scope(StrEnum):
    """A part of the outside interface that a machine's token opens."""

    REVIEW = "review"
    PREDICT = "predict"
    LINES = "lines"
    CATALOGUE = "catalogue"
    RULES = "rules"
    FHIR = "fhir"
    CDS = "cds"


_BEDSIDE: Final = frozenset(
    {
        Act.READ_CATALOGUE,
        Act.SEE_PATIENTS,
        Act.TRY_ORDERS,
        Act.TELL,
        Act.REHEARSE,
        Act.MARK,
        Act.READ_BURDEN,
    }
)
_CONTENT: Final = frozenset({Act.DRAFT, Act.APPROVE, Act.REPLAY})

# The administrator keeps the house and sees no patient.
MAY: Final[Mapping[Role, frozenset[Act]]] = MappingProxyType(
    {
        Role.NURSE: _BEDSIDE,
        Role.PRESCRIBER: _BEDSIDE | _CONTENT,
        Role.EDUCATOR: frozenset({Act.READ_CATALOGUE, Act.READ_BURDEN}),
        Role.PHARMACIST: _BEDSIDE | _CONTENT | {Act.SIGN_NOTES, Act.READ_AUDIT},
        Role.ADMINISTRATOR: frozenset(
            {
                Act.READ_CATALOGUE,
                Act.READ_AUDIT,
                Act.MANAGE_ACCOUNTS,
                Act.MANAGE_TOKENS,
                Act.PURGE,
            }
        ),
    }
)


def roles_that_may(act: Act) -> tuple[Role, ...]:
    """The roles an act is open to, in the table's order."""
    return tuple(role for role in Role if act in MAY[role])
