"""A prediction as the reply of POST /api/predict: ready data, rounded, every number finite."""

from collections.abc import Mapping
from math import isinf
from typing import Any, Final

from app.physiology.course.bands import Band
from app.physiology.course.body import Assumed
from app.physiology.course.loads import Loss
from app.review.predict.infusions import Infusion
from app.review.predict.notes import Note
from app.review.predict.predict import Prediction

DECIMALS: Final = 3
ML_PER_L: Final = 1000.0


def reply_of(prediction: Prediction) -> dict[str, Any]:
    """The reply as the outside interface names it, with what was understood and doubted."""
    asked, course = prediction.asked, prediction.course
    return {
        "assumed": [_assumed(one) for one in prediction.assumed],
        "times_min": _numbers(course.times_min),
        "series": {name: _band(band) for name, band in course.series.items()},
        "interval": course.interval,
        "not_modelled": list(prediction.not_modelled),
        "infusions": [_infusion(one) for one in asked.infusions],
        "losses": [_loss(loss) for loss in asked.losses],
        "horizon_min": _number(asked.horizon_min),
        "step_min": _number(asked.step_min),
        "pco2_mode": "responding" if asked.responding_pco2 else "constant",
        "notes": [_note(one) for one in prediction.notes],
    }


def _number(value: float) -> float:
    """Rounded for a reader; a plain float, and never a negative zero."""
    return round(float(value), DECIMALS) + 0.0


def _numbers(values: tuple[float, ...]) -> list[float]:
    return [_number(value) for value in values]


def _band(band: Band) -> dict[str, list[float]]:
    """The three lines of a band."""
    return {
        "mid": _numbers(band.mid),
        "low": _numbers(band.low),
        "high": _numbers(band.high),
    }


def _assumed(one: Assumed) -> dict[str, Any]:
    return {"name": one.name, "value": _number(one.value), "unit": one.unit, "why": one.why}


def _infusion(one: Infusion) -> dict[str, Any]:
    return {
        "fluid_id": one.fluid.id or None,
        "name": one.fluid.name,
        "volume_ml": _number(one.load.volume_l * ML_PER_L),
        "starts_min": _number(one.load.starts_min),
        "duration_min": _number(one.load.duration_min),
        "insulin_units": _number(one.load.insulin_units),
        "composition": _amounts(one.load.composition.amounts()),
    }


def _loss(loss: Loss) -> dict[str, Any]:
    """A loss with the salt that was reckoned, null where it goes as it is in the patient; and when,
    null where it goes on.
    """
    salts = {"sodium_mmol_l": loss.sodium_mmol_l, "potassium_mmol_l": loss.potassium_mmol_l}
    shown = {name: None if value is None else _number(value) for name, value in salts.items()}
    lasts = None if isinf(loss.duration_min) else _number(loss.duration_min)
    times = {"starts_min": _number(loss.starts_min), "duration_min": lasts}
    return {"kind": loss.kind, "ml_h": _number(loss.ml_h), **shown, **times}


def _amounts(amounts: Mapping[str, float | None]) -> dict[str, float | None]:
    """What a litre holds; what the label does not say is null, what is absent is left out."""
    held = {name: value for name, value in amounts.items() if value != 0}
    return {name: None if value is None else _number(value) for name, value in held.items()}


def _note(note: Note) -> dict[str, str]:
    return {"field": note.field, "written": note.written, "text": note.text}
