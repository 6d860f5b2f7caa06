"""The JSON of the outside interface, as the OpenAPI document describes it.

Reading is done by app/intake (one reader for API, files, pages and the demo unit); these models
describe it, and a contract test holds them against what the reader takes and the reply gives.
"""

from datetime import date, datetime
from typing import Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from app.catalogue.stock.stock import State

Level = Literal["critical", "warning", "info"]


class ObservationIn(BaseModel):
    """One result. `loinc` may stand in for `name`."""

    name: str | None = Field(None, examples=["potassium"])
    loinc: str | None = Field(None, examples=["2823-3"])
    value: float | str | None = Field(None, examples=[5.9])
    unit: str | None = Field(None, examples=["mmol/L"])
    taken_at: datetime | str | None = None


class LumenIn(BaseModel):
    """One cannula or lumen."""

    id: str
    site: Literal["peripheral", "central"] | None = None


class PatientIn(BaseModel):
    """What is known of the patient; anything may be missing, and is then said."""

    age_years: float | None = Field(None, ge=0, le=130)
    sex: Literal["female", "male", "other", "unknown"] | None = Field(
        None, description="other and unknown are taken as not known"
    )
    weight_kg: float | None = Field(None, gt=0)
    height_cm: float | None = Field(None, gt=0)
    conditions: list[str] | None = Field(None, description="words as people write them")
    medications: list[str] | None = Field(None, description="words as people write them")
    observations: list[ObservationIn] | None = None
    urine_ml_h: float | None = Field(None, ge=0)
    balance_24h_ml: float | None = None
    access: list[LumenIn] | None = None


class AdditiveIn(BaseModel):
    """A total for the order's whole volume, in the unit written."""

    substance: str
    amount: float | None = None
    unit: str | None = Field(None, examples=["mmol", "mEq", "g", "mg", "mL", "unit"])


class OrderIn(BaseModel):
    """One fluid order; `fluid` is words, matched to the catalogue, asked about when doubtful."""

    id: str | None = None
    fluid: str | None = Field(None, examples=["lactated Ringer's"])
    additives: list[AdditiveIn] | None = None
    volume_ml: float | None = Field(None, gt=0)
    rate_ml_h: float | None = Field(None, gt=0)
    duration_h: float | None = Field(None, gt=0)
    rate_text: str | None = None
    order_text: str | None = None
    starts_at: datetime | str | None = None
    lumen: str | None = None
    purpose: str | None = None


class CoInfusionIn(BaseModel):
    """Something else that runs."""

    name: str
    kind: Literal["drug", "blood", "nutrition"] | None = None
    lumen: str | None = None


class LocalNoteIn(BaseModel):
    """A signed local note that two things may run together: a, b by a drug's key or fluid's id."""

    a: str
    b: str
    text: str
    conditions: str
    by: str
    role: str
    signed_at: datetime | str
    review_on: str = Field(examples=["2031-09-01"], description="the last day on which it counts")


class ReviewRequest(BaseModel):
    """One patient with orders to review."""

    now: datetime | str | None = None
    setting: Literal["adult ward", "ICU", "ED", "theatre", "paediatric", "neonate"] | None = None
    patient: PatientIn | None = None
    orders: list[OrderIn] | None = None
    co_infusions: list[CoInfusionIn] | None = None
    local_notes: list[LocalNoteIn] | None = None


class Out(BaseModel):
    """Replies may carry more fields than are named here; none is ever renamed."""

    model_config = ConfigDict(extra="allow")


class SourceOut(Out):
    """Where a figure or a rule comes from; `seen` false = from memory."""

    work: str
    place: str
    seen: bool


class StockOut(Out):
    """Where a fluid is to be had, as last told; "not told" is neither here nor gone."""

    state: State
    since: datetime | None
    note: str
    by: str


class FluidOut(Out):
    """One catalogue fluid; its figures are named in the reply itself."""

    id: str
    name: str
    kind: str
    stock: StockOut


class FluidsReply(Out):
    """Every fluid."""

    catalogue: str
    fluids: list[FluidOut]


class AlternativeOut(Out):
    """A catalogue fluid that would clear the finding, and why; never one out or withdrawn."""

    fluid_id: str
    why: str
    stock: StockOut


class FindingOut(Out):
    """One thing to say."""

    rule_id: str
    level: Level
    title: str
    detail: str
    figures: dict[str, Any]
    limit: dict[str, float]
    source: list[SourceOut]
    do: str
    alternatives: list[AlternativeOut]


class PatientFindingOut(FindingOut):
    """A finding of the whole patient, with the orders it concerns."""

    order_ids: list[str]


class NotAssessedOut(Out):
    """A rule that could not run, and what it lacked."""

    rule_id: str
    needs: list[str]


class CouldRaiseOut(Out):
    """A value that is missing, stale or in doubt, and what a plausible one would raise.

    `level` is the worst it could raise, by the rules and for the orders named.
    """

    need: str = Field(examples=["potassium"])
    why: Literal["missing", "stale", "suspect"]
    level: Level
    rule_ids: list[str]
    order_ids: list[str]


class OrderOut(Out):
    """One order reviewed."""

    id: str
    fluid_id: str | None
    stock: StockOut | None = Field(description="of the fluid ordered, when one is understood")
    findings: list[FindingOut]
    not_assessed: list[NotAssessedOut]
    loads: dict[str, float | None]


class ReceiptOut(Out):
    """One finding with all it was made from; `previous` is the hash of the receipt before it."""

    schema_: Literal["ringside-receipt-1"] = Field(alias="schema")
    review: str
    number: int
    of: int
    previous: str
    made_at: datetime
    versions: dict[str, str]
    rule_id: str
    level: Level
    figures: dict[str, Any]
    request: dict[str, Any]
    understood: dict[str, Any]
    sha256: str


class LedgerRowOut(Out):
    """One source of water and salt in 24 hours: which part of it, and how that is known."""

    source: str
    what: Literal["fluid", "additive", "vehicle", "drug", "blood", "nutrition", "flush"]
    how_known: Literal["written", "usual vehicle", "at least"]
    water_ml_per_day: float
    sodium_mmol_per_day: float
    share: dict[str, float]
    at_least: list[str]
    note: str


class LedgerOut(Out):
    """Everything that goes into a vein in 24 hours, against need; `hidden` nobody ordered as fluid.

    `at_least` names what is a lower bound since something of it could not be counted.
    """

    rows: list[LedgerRowOut]
    totals: dict[str, float]
    hidden: dict[str, float]
    at_least: list[str]
    need: dict[str, Any]
    notes: list[str]


class SwitchedOffOut(Out):
    """A rule that does not run here, since when, by whom and why; and whether it would have had
    something to say of this request, and of which orders.
    """

    rule_id: str
    rule_title: str
    since: datetime
    by: str
    reason: str
    review_on: date
    would_have_spoken: bool
    order_ids: list[str]


class ReviewReply(Out):
    """The review of one patient."""

    ruleset: str
    orders: list[OrderOut]
    patient_findings: list[PatientFindingOut]
    switched_off: list[SwitchedOffOut] = Field(
        description="Rules that this hospital has switched off: they were not run"
    )
    would_change: list[CouldRaiseOut] = Field(
        description="what is not known and could raise a finding, what matters most first; "
        "missing is not normal"
    )
    totals: dict[str, float | None]
    ledger: LedgerOut
    receipts: list[ReceiptOut] | None = Field(None, description="only when asked for")


class FieldError(BaseModel):
    """One thing that could not be read: where, what, and what is accepted."""

    field: str
    value: Any
    accepted: str


class Errors(BaseModel):
    """Why a request was refused."""

    errors: list[FieldError]
