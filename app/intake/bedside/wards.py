"""Wards as people name them, and the setting each is."""

from typing import Final, get_args

from app.patient.snapshot import Setting

WARDS: Final[dict[Setting, tuple[str, ...]]] = {
    "adult ward": (
        "ward", "adult", "adults", "medical ward", "surgical ward", "general ward", "medical",
        "surgical", "renal ward", "oncology ward", "stroke unit", "maternity", "maternity ward",
        "labour ward", "delivery suite", "antenatal ward", "postnatal ward",
        "acute medical unit", "amu", "mau", "sau", "geriatric ward", "burns unit", "inpatient",
        "floor",
    ),
    "ICU": (
        "itu", "intensive care", "intensive care unit", "critical care", "critical care unit",
        "hdu", "high dependency", "high dependency unit", "adult icu", "neuro icu",
        "cardiac icu", "ccu",
    ),
    "ED": (
        "emergency department", "emergency", "a&e", "er", "emergency room", "resus",
    ),
    "theatre": (
        "theatres", "operating room", "operating theatre", "or", "recovery", "pacu",
        "anaesthetic room",
    ),
    "paediatric": (
        "paediatrics", "pediatric", "pediatrics", "children", "childrens ward", "child", "picu",
        "paediatric ward", "pediatric ward", "paediatric intensive care", "paediatric icu",
        "pediatric icu", "pediatric intensive care", "paediatric ed",
    ),
    "neonate": (
        "neonatal", "nicu", "newborn", "neonatal unit", "neonatal intensive care", "scbu",
        "special care baby unit", "neonates",
    ),
}  # fmt: skip
SETTINGS: Final[dict[str, str]] = {
    **{setting.lower(): setting for setting in get_args(Setting)},
    **{name: setting for setting, names in WARDS.items() for name in names},
}
