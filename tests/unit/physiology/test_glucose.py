"""Glucose by weight and minute."""

from app.physiology.glucose import glucose_mg_kg_min


def test_a_newborns_usual_rate() -> None:
    assert glucose_mg_kg_min(rate_ml_h=9, glucose_g_l=100, weight_kg=3) == 5
