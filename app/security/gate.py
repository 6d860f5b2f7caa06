"""What each address needs, in one table; a route that is missing here answers nobody.

A part of the app adds its own routes here. tests/contract/test_gate.py holds table and routes
together, and tries every route signed out, in a wrong role and in a right one.
"""

import re
from collections.abc import Mapping
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
        # every page
        ("POST", "/look"): Open.ALL,
        # patients and their orders
        ("GET", "/"): Act.SEE_PATIENTS,
        ("GET", "/patients/{patient_id}"): Act.SEE_PATIENTS,
        ("GET", "/patients/{patient_id}/receipts/{number}"): Act.SEE_PATIENTS,
        ("GET", "/lines/{patient_id}"): Act.SEE_PATIENTS,
        ("GET", "/lines/{patient_id}/labels"): Act.SEE_PATIENTS,
        ("GET", "/lines/{patient_id}/lumens"): Act.SEE_PATIENTS,
        ("POST", "/lines/{patient_id}/lumens"): Act.TELL,
        ("GET", "/orders/new"): Act.TRY_ORDERS,
        ("POST", "/orders/review"): Act.TRY_ORDERS,
        ("POST", "/orders/receipts"): Act.TRY_ORDERS,
        # the catalogue, and what is reckoned from typed figures
        ("GET", "/catalogue"): Act.READ_CATALOGUE,
        ("GET", "/catalogue/{fluid_id}"): Act.READ_CATALOGUE,
        ("GET", "/catalogue/{fluid_id}/stock"): Act.READ_CATALOGUE,
        ("POST", "/catalogue/{fluid_id}/stock"): Act.TELL,
        ("GET", "/stock/news"): Act.READ_CATALOGUE,
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
        ("GET", "/about"): Act.READ_CATALOGUE,
    }
)

PARAMETER: Final = re.compile(r"\{\w+\}")
