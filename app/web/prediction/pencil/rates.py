"""Potassium and glucose by the hour and the minute, by hand, beside what plasma does."""

from collections.abc import Iterator, Sequence
from typing import Final

from app.physiology.glucose import glucose_mg_kg_min
from app.physiology.rates import amount_per_hour
from app.web.prediction.pencil.rows import HandRow, Lines, cells_of, change_text
from app.web.prediction.pencil.tried import Tried
from app.web.show import amount, number

UNIT: Final = "mmol/L"
PER_KG_PLACES: Final = 2
NONE: Final = "none"


def rate_rows(tried: Sequence[Tried]) -> Iterator[HandRow]:
    """Potassium and glucose, each where a bag holds any."""
    if any(one.mix.potassium_mmol_l for one in tried):
        yield HandRow(
            "potassium-rate",
            "Potassium while it runs",
            cells_of(tried, _potassium, _potassium_curve),
            "The formula says how fast potassium goes in, and nothing of plasma; on the curve "
            "cells take most of it up, and some is lost.",
        )
    if any(one.mix.glucose_g_l for one in tried):
        insulin = "with the insulin that runs" if tried[0].insulin else "with no insulin given"
        yield HandRow(
            "glucose-rate",
            "Glucose while it runs",
            cells_of(tried, _glucose, _glucose_curve),
            "The formula says how fast sugar goes in, and nothing of blood glucose; the curve "
            f"uses it up to a most, {insulin}.",
        )


def _potassium(one: Tried) -> Lines:
    if not one.mix.potassium_mmol_l:
        return (NONE,)
    per_hour = amount_per_hour(one.rate_ml_h, one.mix.potassium_mmol_l)
    per_kg = per_hour / one.subject.weight_kg
    return (
        f"{number(per_hour)} mmol/h",
        f"{number(per_kg, PER_KG_PLACES)} mmol/kg/h",
    )


def _potassium_curve(one: Tried, moment: float) -> Lines:
    return _moved(one, "potassium_mmol_l", moment, PER_KG_PLACES)


def _glucose(one: Tried) -> Lines:
    if not one.mix.glucose_g_l:
        return (NONE,)
    rate = glucose_mg_kg_min(
        rate_ml_h=one.rate_ml_h,
        glucose_g_l=one.mix.glucose_anhydrous_g_l,
        weight_kg=one.subject.weight_kg,
    )
    return (f"{number(rate)} mg/kg/min",)


def _glucose_curve(one: Tried, moment: float) -> Lines:
    return _moved(one, "glucose_mmol_l", moment, 1)


def _moved(one: Tried, series: str, moment: float, places: int) -> Lines:
    now = amount(one.at(series, moment), UNIT, places)
    return (change_text(one.change(series, moment), UNIT, places), f"to {now}")
