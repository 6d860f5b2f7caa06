"""What each address needs, in one table; a route that is missing here answers nobody.

A part of the app adds its own routes here. tests/contract/test_gate.py holds table and routes
together, and tries every route signed out, in a wrong role and in a right one.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from types import MappingProxyType
from typing import Final

from app.security.acts import Act, Scope


class Open(StrEnum):
    """Needs that are no act of a role."""

    ALL = "all"
    SIGNED_IN = "signed-in"


Need = Act | Scope | Open
Address = tuple[str, str]

ADMITS: Final[Mapping[Address, Need]] = MappingProxyType(
    {
        # what watches the server, and the outside interface's own description
        ("GET", "/healthz"): Open.ALL,
        ("GET", "/readyz"): Open.ALL,
        ("GET", "/openapi.json"): Open.ALL,
        # machine clients
        ("POST", "/api/review"): Scope.REVIEW,
        ("POST", "/api/predict"): Scope.PREDICT,
        ("POST", "/api/line-plan"): Scope.LINES,
        ("GET", "/api/fluids"): Scope.CATALOGUE,
        ("GET", "/api/fluids/{fluid_id}"): Scope.CATALOGUE,
        ("GET", "/api/compare"): Scope.CATALOGUE,
        ("GET", "/api/co-infusion"): Scope.CATALOGUE,
        ("GET", "/api/rules"): Scope.RULES,
        # every page, and coming in
        ("POST", "/look"): Open.ALL,
        ("GET", "/sign-in"): Open.ALL,
        ("POST", "/sign-in"): Open.ALL,
        ("GET", "/sign-in/house"): Open.ALL,
        ("GET", "/sign-in/house/back"): Open.ALL,
        ("POST", "/sign-in/house/on"): Open.ALL,
        ("POST", "/sign-out"): Open.ALL,
        ("GET", "/who-may"): Open.ALL,
        # one's own account
        ("GET", "/account"): Open.SIGNED_IN,
        ("POST", "/account/password"): Open.SIGNED_IN,
        ("POST", "/account/lock"): Open.SIGNED_IN,
        ("POST", "/account/sign-out-everywhere"): Open.SIGNED_IN,
        ("GET", "/account/watch"): Open.SIGNED_IN,
        ("GET", "/account/here"): Open.SIGNED_IN,
        # what the administrator keeps
        ("GET", "/accounts"): Act.MANAGE_ACCOUNTS,
        ("POST", "/accounts"): Act.MANAGE_ACCOUNTS,
        ("GET", "/accounts/tokens"): Act.MANAGE_TOKENS,
        ("POST", "/accounts/tokens"): Act.MANAGE_TOKENS,
        ("POST", "/accounts/tokens/{token_id}/end"): Act.MANAGE_TOKENS,
        ("GET", "/accounts/{account_id}"): Act.MANAGE_ACCOUNTS,
        ("POST", "/accounts/{account_id}/roles"): Act.MANAGE_ACCOUNTS,
        ("POST", "/accounts/{account_id}/password"): Act.MANAGE_ACCOUNTS,
        ("POST", "/accounts/{account_id}/unlock"): Act.MANAGE_ACCOUNTS,
        ("POST", "/accounts/{account_id}/end"): Act.MANAGE_ACCOUNTS,
        ("POST", "/accounts/{account_id}/open"): Act.MANAGE_ACCOUNTS,
        ("POST", "/accounts/{account_id}/sessions/end"): Act.MANAGE_ACCOUNTS,
        # patients and their orders
        ("GET", "/"): Act.SEE_PATIENTS,
        ("GET", "/patients/{patient_id}"): Act.SEE_PATIENTS,
        ("GET", "/patients/{patient_id}/receipts/{number}"): Act.SEE_PATIENTS,
        ("GET", "/lines/{patient_id}"): Act.SEE_PATIENTS,
        ("GET", "/lines/{patient_id}/labels"): Act.SEE_PATIENTS,
        ("GET", "/lines/{patient_id}/lumens"): Act.SEE_PATIENTS,
        ("POST", "/lines/{patient_id}/lumens"): Act.TELL,
        ("GET", "/lines/{patient_id}/placed"): Act.SEE_PATIENTS,
        ("POST", "/lines/{patient_id}/placed"): Act.TELL,
        ("GET", "/orders/new"): Act.TRY_ORDERS,
        ("POST", "/orders/review"): Act.TRY_ORDERS,
        ("POST", "/orders/receipts"): Act.TRY_ORDERS,
        # the catalogue, and what is reckoned from typed figures
        ("GET", "/catalogue"): Act.READ_CATALOGUE,
        ("GET", "/catalogue/{fluid_id}"): Act.READ_CATALOGUE,
        ("GET", "/catalogue/new"): Act.DRAFT,
        ("POST", "/catalogue/new"): Act.DRAFT,
        ("GET", "/catalogue/{fluid_id}/edit"): Act.DRAFT,
        ("POST", "/catalogue/{fluid_id}/edit"): Act.DRAFT,
        ("GET", "/catalogue/{fluid_id}/label"): Act.READ_CATALOGUE,
        ("POST", "/catalogue/{fluid_id}/label"): Act.READ_CATALOGUE,
        ("GET", "/catalogue/{fluid_id}/stock"): Act.READ_CATALOGUE,
        ("POST", "/catalogue/{fluid_id}/stock"): Act.TELL,
        ("GET", "/stock/news"): Act.READ_CATALOGUE,
        ("GET", "/catalogue/{fluid_id}/counts"): Act.TELL,
        ("POST", "/catalogue/{fluid_id}/counts"): Act.TELL,
        # a shortage rehearsed, and the plans that are kept
        ("GET", "/shortage"): Act.REHEARSE,
        ("GET", "/shortage/plan"): Act.REHEARSE,
        ("GET", "/shortage/plan.csv"): Act.REHEARSE,
        ("GET", "/shortage/plans"): Act.REHEARSE,
        ("POST", "/shortage/plans"): Act.SIGN_NOTES,
        ("GET", "/shortage/plans/{number}"): Act.REHEARSE,
        ("GET", "/compare"): Act.READ_CATALOGUE,
        ("GET", "/predict"): Act.READ_CATALOGUE,
        ("GET", "/predict/ahead"): Act.READ_CATALOGUE,
        ("GET", "/predict/formulas"): Act.READ_CATALOGUE,
        ("GET", "/predict/trials"): Act.READ_CATALOGUE,
        ("GET", "/co-infusion"): Act.READ_CATALOGUE,
        ("GET", "/co-infusion/gaps"): Act.SEE_PATIENTS,
        ("GET", "/co-infusion/gaps.csv"): Act.SEE_PATIENTS,
        ("GET", "/co-infusion/notes"): Act.READ_CATALOGUE,
        ("POST", "/co-infusion/notes"): Act.SIGN_NOTES,
        ("GET", "/co-infusion/notes/{number}/withdraw"): Act.READ_CATALOGUE,
        ("POST", "/co-infusion/notes/{number}/withdraw"): Act.SIGN_NOTES,
        ("GET", "/rules"): Act.READ_CATALOGUE,
        ("GET", "/rules/measured"): Act.READ_CATALOGUE,
        ("GET", "/rules/{rule_id}"): Act.READ_CATALOGUE,
        # changes of content: drafted by one person, decided by another
        ("GET", "/rules/{rule_id}/change"): Act.DRAFT,
        ("POST", "/rules/{rule_id}/change"): Act.DRAFT,
        # a change run on past orders; how much is said, and what people say of it
        ("GET", "/changes/{number}/replay"): Act.REPLAY,
        ("GET", "/changes/{number}/replay/progress"): Act.REPLAY,
        ("POST", "/changes/{number}/replay"): Act.REPLAY,
        ("POST", "/changes/{number}/replay/stop"): Act.REPLAY,
        ("GET", "/changes/{number}/replay/past/{past_id}"): Act.REPLAY,
        ("GET", "/burden"): Act.READ_BURDEN,
        ("GET", "/burden/progress"): Act.READ_BURDEN,
        ("POST", "/burden"): Act.READ_BURDEN,
        ("POST", "/burden/stop"): Act.READ_BURDEN,
        ("GET", "/burden/figures.csv"): Act.READ_BURDEN,
        ("GET", "/burden/marks.csv"): Act.READ_BURDEN,
        ("POST", "/burden/samples"): Act.MARK,
        ("GET", "/burden/samples/{sample_id}"): Act.MARK,
        ("GET", "/burden/samples/{sample_id}/{number}"): Act.MARK,
        ("POST", "/burden/samples/{sample_id}/{number}"): Act.MARK,
        ("GET", "/changes"): Act.READ_CATALOGUE,
        ("GET", "/changes/then"): Act.READ_CATALOGUE,
        ("GET", "/catalogue/{fluid_id}/history"): Act.READ_CATALOGUE,
        ("GET", "/changes/{number}"): Act.READ_CATALOGUE,
        ("GET", "/changes/{number}/approve"): Act.READ_CATALOGUE,
        ("POST", "/changes/{number}/approve"): Act.APPROVE,
        ("GET", "/changes/{number}/send-back"): Act.READ_CATALOGUE,
        ("POST", "/changes/{number}/send-back"): Act.APPROVE,
        ("GET", "/changes/{number}/withdraw"): Act.READ_CATALOGUE,
        ("POST", "/changes/{number}/withdraw"): Act.DRAFT,
        ("GET", "/about"): Act.READ_CATALOGUE,
        # what was done to the content, and what may go wrong
        ("GET", "/audit"): Act.READ_AUDIT,
        ("POST", "/audit/export"): Act.READ_AUDIT,
        ("GET", "/hazards"): Act.READ_CATALOGUE,
        ("GET", "/hazards.csv"): Act.READ_CATALOGUE,
        ("GET", "/hazards.json"): Act.READ_CATALOGUE,
    }
)

# Asked for by an open page itself: nobody is there because of it.
UNATTENDED: Final[frozenset[Address]] = frozenset(
    {
        ("GET", "/stock/news"),
        ("GET", "/account/watch"),
        ("GET", "/changes/{number}/replay/progress"),
        ("GET", "/burden/progress"),
    }
)

PARAMETER: Final = re.compile(r"\{(\w+)\}")
# A number is one: no page need ask what a word, or more digits than any row has, would mean.
NUMBER: Final = "number"
PARTS: Final[Mapping[str, str]] = MappingProxyType({NUMBER: "[0-9]{1,9}"})
ANY_PART: Final = "[^/]+"


@dataclass(frozen=True, slots=True)
class Found:
    """What the table says of a request. template: empty when there is no such address.

    need: None when the address is not answered by this method; methods: those it is answered by.
    """

    template: str = ""
    need: Need | None = None
    methods: Mapping[str, Need] = field(default_factory=dict)


class Gate:
    """The table, made ready to be asked at every request."""

    def __init__(self, admits: Mapping[Address, Need] = ADMITS) -> None:
        by_path: dict[str, dict[str, Need]] = {}
        for (method, path), need in admits.items():
            by_path.setdefault(path, {})[method] = need
        self._plain = {path: needs for path, needs in by_path.items() if "{" not in path}
        self._patterns = [(_pattern(path), path) for path in by_path if "{" in path]
        self._by_path = by_path

    def find(self, method: str, path: str) -> Found:
        """What a request needs. A path that names an address in full comes before a pattern."""
        template = self._template(path)
        if template is None:
            return Found()
        methods = self._by_path[template]
        asked = "GET" if method == "HEAD" else method
        return Found(template, methods.get(asked), methods)

    def _template(self, path: str) -> str | None:
        if path in self._plain:
            return path
        return next((whole for pattern, whole in self._patterns if pattern.fullmatch(path)), None)


def _pattern(template: str) -> re.Pattern[str]:
    # Split by a group, what stands between is told too: every second piece is a parameter's name.
    pieces = enumerate(PARAMETER.split(template))
    return re.compile(
        "".join(PARTS.get(one, ANY_PART) if at % 2 else re.escape(one) for at, one in pieces)
    )
