"""What somebody keeps in a file."""

import json
from pathlib import Path
from typing import Any

POTASSIUM = {
    "name": "potassium",
    "value": 6.1,
    "unit": "mmol/L",
    "taken_at": "2031-03-04T05:00:00Z",
}
KCL_BAG = {
    "id": "o1",
    "fluid": "0.9% sodium chloride",
    "additives": [{"substance": "potassium chloride", "amount": 20, "unit": "mmol"}],
    "volume_ml": 1000,
    "rate_ml_h": 60,
    "duration_h": 16,
    "purpose": "replacement",
}
REQUEST: dict[str, Any] = {
    "now": "2031-03-04T07:00:00Z",
    "setting": "adult ward",
    "patient": {"age_years": 61, "sex": "female", "weight_kg": 70, "observations": [POTASSIUM]},
    "orders": [KCL_BAG],
}
CAUTION = "never replaces it"
CSV = """patient_no,order_no,fluid,rate,rate_unit,start
12,o1,0.9% sodium chloride,100,mL/h,2031-03-04 06:00
13,o1,20% albumin,25,mL/h,2031-03-04 06:00
"""


def file_of(tmp_path: Path, content: object, name: str = "orders.json") -> str:
    path = tmp_path / name
    text = content if isinstance(content, str) else json.dumps(content)
    path.write_text(text, encoding="utf-8")
    return str(path)
