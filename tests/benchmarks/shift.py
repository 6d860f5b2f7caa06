"""A shift of 40 beds and 160 orders, made from the demo unit's patients."""

from dataclasses import replace
from typing import Any

from app.cautions.assess import Ruleset
from app.patient.case import Case
from app.review.knowledge import Knowledge
from app.storage.demo_files import DEMO, Words, read_bed_file, read_case_of, read_unit_file

BEDS = 40
ORDERS_A_BED = 4

API_REQUEST: dict[str, Any] = {
    "now": "2031-03-04T07:00:00Z",
    "setting": "adult ward",
    "patient": {
        "age_years": 61,
        "sex": "female",
        "weight_kg": 70,
        "conditions": ["acute kidney injury stage 3"],
        "medications": ["spironolactone"],
        "observations": [
            {"name": name, "value": value, "unit": unit, "taken_at": "2031-03-04T05:00:00Z"}
            for name, value, unit in (
                ("potassium", 5.9, "mmol/L"),
                ("sodium", 138, "mmol/L"),
                ("creatinine", 310, "umol/L"),
            )
        ],
        "urine_ml_h": 20,
        "access": [{"id": "p1", "site": "peripheral"}],
    },
    "orders": [
        {
            "id": "o1",
            "fluid": "lactated Ringer's",
            "additives": [{"substance": "potassium chloride", "amount": 20, "unit": "mmol"}],
            "volume_ml": 1000,
            "rate_ml_h": 125,
            "lumen": "p1",
            "purpose": "maintenance",
        }
    ],
    "co_infusions": [{"name": "ceftriaxone 2 g over 30 min", "kind": "drug", "lumen": "p1"}],
}


def forty_beds() -> tuple[list[Case], Ruleset]:
    """Forty cases of four orders each; the demo's own orders repeated where a bed has fewer."""
    knowledge = Knowledge.from_seed()
    moment = read_unit_file().fixed_now
    assert moment is not None
    words = Words(knowledge.catalogue, knowledge.vocabulary, moment)
    beds = sorted((DEMO / "patients").glob("*.toml"))
    read = [read_case_of(read_bed_file(path).bed, words) for path in beds]
    with_orders = [case for case in read if case.orders]
    cases = []
    for bed in range(BEDS):
        case = with_orders[bed % len(with_orders)]
        orders = tuple(
            replace(case.orders[n % len(case.orders)], id=f"b{bed}-o{n}")
            for n in range(ORDERS_A_BED)
        )
        cases.append(replace(case, orders=orders))
    return cases, knowledge.ruleset


def as_if_new(cases: list[Case]) -> list[Case]:
    """The same cases as other objects, so that nothing kept of the last look helps."""
    return [
        replace(
            case,
            patient=replace(case.patient),
            orders=tuple(replace(order) for order in case.orders),
            co_infusions=tuple(replace(other) for other in case.co_infusions),
        )
        for case in cases
    ]
