"""Results of one patient that cannot both be right."""

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Final

from app.cautions.assess import Found
from app.cautions.data_rules import DATA_SUSPECT
from app.cautions.facts import filtration_contradicts
from app.cautions.phrases import opening
from app.cautions.rule import Finding
from app.patient.case import Case
from app.review.missing.lack import judged_by

NO_LIMITS: Final[Mapping[str, float]] = MappingProxyType({})


def contradictions(case: Case) -> Iterator[Found]:
    """eGFR against creatinine: loud where an order is judged by the kidneys, else mentioned."""
    said = filtration_contradicts(case.patient)
    if not said:
        return
    judged = tuple(order.id for order in case.orders if "creatinine" in judged_by(order))
    finding = Finding(
        "warning" if judged else "info",
        "eGFR and creatinine contradict each other; one of them is wrong.",
        f"{opening(said)}. Until one is known to be wrong, the worse is taken for true.",
        figures={"egfr": "suspect", "creatinine": "suspect"},
        do="Check both at their source, or repeat the sample, before this goes on."
        if judged
        else "",
        order_ids=judged or tuple(order.id for order in case.orders),
    )
    yield Found(DATA_SUSPECT, finding, NO_LIMITS)
