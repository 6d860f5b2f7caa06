"""The sample request and the names that outside checks rely on, word for word."""

from typing import Any, Final

REVIEW_REQUEST: Final[dict[str, Any]] = {
    "now": "2031-03-04T07:00:00Z",
    "setting": "adult ward",
    "patient": {
        "age_years": 61,
        "sex": "female",
        "weight_kg": 70,
        "height_cm": 165,
        "conditions": ["acute kidney injury stage 3"],
        "medications": ["spironolactone"],
        "observations": [
            {
                "name": "potassium",
                "value": 5.9,
                "unit": "mmol/L",
                "taken_at": "2031-03-04T05:00:00Z",
            }
        ],
        "urine_ml_h": 20,
        "balance_24h_ml": 1800,
        "access": [{"id": "p1", "site": "peripheral"}, {"id": "c1", "site": "central"}],
    },
    "orders": [
        {
            "id": "o1",
            "fluid": "lactated Ringer's",
            "additives": [{"substance": "potassium chloride", "amount": 20, "unit": "mmol"}],
            "volume_ml": 1000,
            "rate_ml_h": 125,
            "duration_h": 8,
            "rate_text": None,
            "order_text": None,
            "starts_at": None,
            "lumen": "p1",
            "purpose": "maintenance",
        }
    ],
    "co_infusions": [{"name": "ceftriaxone 2 g over 30 min", "kind": "drug", "lumen": "p1"}],
}
REPLY: Final = {"ruleset", "orders", "patient_findings", "would_change", "totals"}
ORDER: Final = {"id", "fluid_id", "findings", "not_assessed", "loads"}
FINDING: Final = {
    "rule_id",
    "level",
    "title",
    "detail",
    "figures",
    "limit",
    "source",
    "do",
    "alternatives",
}
STOCK: Final = {"state", "since", "note", "by"}
WOULD_CHANGE: Final = {"need", "why", "level", "rule_ids", "order_ids"}
LOADS: Final = {
    "water_ml_per_day",
    "sodium_mmol_per_day",
    "potassium_mmol_per_day",
    "chloride_mmol_per_day",
    "glucose_g_per_day",
    "potassium_mmol_h",
    "glucose_mg_kg_min",
}
RULE: Final = {"id", "title", "trigger", "limits", "level", "sources", "status"}
PAGES: Final = ("/", "/orders/new", "/compare", "/catalogue", "/rules", "/rules/measured", "/about")
