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
PREDICT_REQUEST: Final[dict[str, Any]] = {
    "now": "2031-03-04T07:00:00Z",
    "patient": REVIEW_REQUEST["patient"],
    "infusions": [
        {
            "fluid": "lactated Ringer's",
            "additives": [{"substance": "potassium chloride", "amount": 20, "unit": "mmol"}],
            "volume_ml": 1000,
            "starts_min": 0,
            "duration_min": 60,
        },
        {
            "composition": {"sodium_mmol_l": 513, "chloride_mmol_l": 513, "albumin_g_l": 0},
            "volume_ml": 100,
            "starts_min": 60,
            "duration_min": 15,
        },
    ],
    "horizon_min": 240,
    "step_min": 15,
    "losses": [{"kind": "urine", "ml_h": 50}, {"kind": "gastric", "ml_h": 20}],
    "pco2_mode": "constant",
}
LINE_PLAN_REQUEST: Final[dict[str, Any]] = {
    "horizon_min": 720,
    "step_min": 5,
    "flush_min": 0,
    "lumens": [{"id": "p1", "site": "peripheral"}],
    "infusions": [
        {
            "id": "lr",
            "name": "lactated Ringer's 100 mL/h",
            "kind": "continuous",
            "may_pause": True,
            "max_pause_min": 240,
        },
        {
            "id": "cef",
            "name": "ceftriaxone",
            "kind": "intermittent",
            "duration_min": 60,
            "earliest_start_min": 120,
            "latest_end_min": 480,
        },
        {
            "id": "rbc",
            "name": "red cells",
            "kind": "blood",
            "duration_min": 180,
            "earliest_start_min": 0,
            "latest_end_min": 720,
            "exclusive": True,
            "may_share_with_exclusive": ["ns"],
            "needs_central": False,
        },
    ],
    "keep_apart": [{"pair": ["lr", "cef"], "scope": "lumen"}],
    "use_catalogue": False,
}
LINE_PLAN: Final = {
    "feasible",
    "extra_cannulas",
    "interruptions",
    "minutes_paused",
    "proven_optimal",
    "plan",
    "steps",
    "why_not",
    "ways_out",
}
PLACEMENT: Final = {"infusion_id", "lumen_id", "runs"}
STEP: Final = {"at_min", "lumen_id", "do"}
WHY_NOT: Final = {"clash", "text"}
WAY_OUT: Final = {"change", "effect"}
PREDICTION: Final = {"assumed", "times_min", "series", "interval", "not_modelled", "notes"}
ASSUMED: Final = {"name", "value", "unit", "why"}
SERIES: Final = {
    "sodium_mmol_l",
    "potassium_mmol_l",
    "chloride_mmol_l",
    "bicarbonate_mmol_l",
    "base_excess_mmol_l",
    "ph",
    "albumin_g_l",
    "osmolality_mosm_kg",
    "haematocrit",
    "glucose_mmol_l",
    "lactate_mmol_l",
    "plasma_volume_ml",
    "interstitial_volume_ml",
    "intracellular_volume_ml",
}
BAND: Final = {"mid", "low", "high"}
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
PAIR: Final = {"a", "b", "verdict", "scope", "keep_apart", "text", "why", "parts", "newborn"}
FACT: Final = {
    "a", "b", "verdict", "counts", "contact", "strength", "vehicle", "hours", "condition",
    "mechanism", "how_seen", "population", "scope", "source",
}  # fmt: skip
PAGES: Final = (
    "/",
    "/orders/new",
    "/compare",
    "/catalogue",
    "/co-infusion",
    "/rules",
    "/rules/measured",
    "/about",
)
