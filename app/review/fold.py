"""One cause, one row: findings of one cause are told together, the worst first."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from app.cautions.assess import Found
from app.cautions.rule import LEVELS
from app.review.assess import Review

# Rules whose first word names one cause: several of them on one order are reasons of one row.
ONE_CAUSE: Final = (
    "k", "na", "cef", "blood", "lac", "bic", "buf", "glu", "mg", "phos", "di", "adr",
)  # fmt: skip
# Rules of several families that speak of one cause.
CAUSES: Final[Mapping[str, tuple[str, ...]]] = {
    "the day's load": (
        "ord-rate-implausible-adult", "ord-rate-implausible-child", "dka-child-fast",
        "sal-hyperCl-acid", "dka-fluid-choice", "hf-volume", "dia-anuric", "preg-volume",
        "ord-water-total", "ord-water-frail", "ord-sodium-total", "ord-chloride-total",
        "ord-positive-balance", "ord-cumulative-crystalloid", "drug-diluent-na",
    ),
    "na": ("preg-oxytocin", "des-water", "li-sodium", "res-hypotonic"),
    "bic": ("na-bicarb-load",),
    "glu": ("dka-glucose", "ord-glucose-need"),
    "water": ("water-alone", "alb-water"),
    "colloid": ("hes-critical", "gel-sepsis"),
    "too little": ("res-under", "burn-hypovolaemic", "kid-rhabdo"),
    "the mixture": ("add-bicarb-ca", "ca-phos-mix", "add-two", "add-hypertonic"),
    "calcium": ("ca-hyper", "ca-digoxin"),
    "the vein": (
        "line-osm-peripheral", "line-osm-irritant", "line-hypertonic-saline",
        "line-strong-glucose", "line-kcl-peripheral", "ca-extravasation", "ph-acidic-vein",
    ),
    "the lumen": (
        "line-shared-lumen", "line-vasoactive-with-bolus", "line-lumen-count", "line-catheter-tpn",
    ),
    "weight": ("ord-weight-missing",),
    "what to ask of the writer": ("ord-rate-missing", "ord-duration-missing", "order-ambiguous"),
    "results": ("ord-no-labs-24h", "data-stale", "data-missing", "data-suspect"),
}  # fmt: skip
# Of these a patient has one row, however many orders they are found on.
WHOLE_PATIENT: Final = frozenset(
    {
        *("hf-volume", "dia-anuric", "preg-volume", "ord-water-total", "ord-water-frail"),
        *("ord-sodium-total", "ord-chloride-total"),
    }
)
CAUSE_OF: Final = {rule_id: cause for cause, ids in CAUSES.items() for rule_id in ids}


@dataclass(frozen=True, slots=True)
class Row:
    """Findings of one cause. lead: the worst; reasons: the others, worst first.

    order_ids: the orders concerned; empty when it is about the patient alone.
    """

    cause: str
    lead: Found
    reasons: tuple[Found, ...]
    order_ids: tuple[str, ...]


def rows_of(review: Review) -> tuple[Row, ...]:
    """A review's findings as rows, worst first; a patient's finding joins the row of its order."""
    groups: dict[tuple[str, str], list[Found]] = {}
    first: dict[str, str] = {}
    for order in review.orders:
        for found in order.found:
            cause, home = cause_of(found), order.order.id
            if found.rule.id in WHOLE_PATIENT:
                home = first.setdefault(cause, home)
            groups.setdefault((home, cause), []).append(found)
    for found in review.patient_found:
        groups.setdefault(_home(found, groups), []).append(found)
    rows = (_row(cause, group) for (_, cause), group in groups.items())
    return tuple(sorted(rows, key=lambda row: _rank(row.lead)))


def cause_of(found: Found) -> str:
    """The cause a finding belongs to; most rules are a cause of their own."""
    rule_id = found.rule.id
    if rule_id == "data-missing" and set(found.finding.figures) == {"weight_kg"}:
        return "weight"
    family = rule_id.split("-")[0]
    return CAUSE_OF.get(rule_id, family if family in ONE_CAUSE else rule_id)


def _home(found: Found, groups: Iterable[tuple[str, str]]) -> tuple[str, str]:
    """The row of an order that already tells this cause, or else a row of the patient's own."""
    cause, keys = cause_of(found), set(groups)
    for order_id in found.finding.order_ids:
        if (order_id, cause) in keys:
            return order_id, cause
    return "", cause


def _row(cause: str, group: list[Found]) -> Row:
    ranked = sorted(group, key=_rank)
    return Row(cause, ranked[0], tuple(ranked[1:]), tuple(dict.fromkeys(_order_ids(ranked))))


def _order_ids(group: Iterable[Found]) -> Iterator[str]:
    for found in group:
        yield from found.finding.order_ids


def _rank(found: Found) -> int:
    return LEVELS.index(found.finding.level)
