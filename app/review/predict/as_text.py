"""A prediction as plain lines, for a terminal or a print: figures with their range, then doubts."""

import json
from collections.abc import Iterator
from math import isinf
from typing import Final

from app.physiology.course.bands import Band
from app.physiology.course.course import Course
from app.physiology.course.loads import Loss
from app.review.predict.infusions import Infusion
from app.review.predict.notes import Note
from app.review.predict.predict import Prediction
from app.review.predict.reply import reply_of

USUAL_CAUTION: Final = (
    "A prediction is not a result: take the sample. Ringside supports the judgement of licensed "
    "staff and never replaces it. Local policy and the product label win."
)
TIMES_SHOWN: Final = 4
ML_PER_L: Final = 1000.0
# Name as read aloud, unit, decimals.
SHOWN: Final = {
    "sodium_mmol_l": ("sodium", "mmol/L", 1),
    "potassium_mmol_l": ("potassium", "mmol/L", 2),
    "chloride_mmol_l": ("chloride", "mmol/L", 1),
    "bicarbonate_mmol_l": ("bicarbonate", "mmol/L", 1),
    "base_excess_mmol_l": ("base excess", "mmol/L", 1),
    "ph": ("pH", "", 2),
    "albumin_g_l": ("albumin", "g/L", 1),
    "osmolality_mosm_kg": ("osmolality", "mosm/kg", 0),
    "haematocrit": ("haematocrit", "%", 1),
    "glucose_mmol_l": ("glucose", "mmol/L", 1),
    "lactate_mmol_l": ("lactate", "mmol/L", 1),
    "plasma_volume_ml": ("plasma volume", "mL", 0),
    "interstitial_volume_ml": ("interstitial volume", "mL", 0),
    "intracellular_volume_ml": ("intracellular volume", "mL", 0),
}


def lines_of(prediction: Prediction) -> Iterator[str]:
    """Every line in reading order; the usual caution ends it."""
    for infusion in prediction.asked.infusions:
        yield f"Given: {_infusion_line(infusion)}"
    for loss in prediction.asked.losses:
        yield f"Lost: {_loss_line(loss)}"
    yield ""
    yield from _course_lines(prediction.course)
    yield ""
    for one in prediction.assumed:
        yield f"Assumed: {one.name} {one.value:.4g} {one.unit} ({one.why})"
    yield f"Range: {prediction.course.interval}."
    yield f"Not modelled: {'; '.join(prediction.not_modelled)}."
    yield from map(note_line, prediction.notes)
    yield USUAL_CAUTION


def as_json(prediction: Prediction) -> str:
    """The reply of POST /api/predict as indented text."""
    return json.dumps(reply_of(prediction), ensure_ascii=False, indent=2)


def note_line(note: Note) -> str:
    """One note as a line: the field, what was written, what of it."""
    written = f" “{note.written}”" if note.written else ""
    return f"Note: {note.field}{written}: {note.text}"


def _infusion_line(infusion: Infusion) -> str:
    load = infusion.load
    volume_ml = load.volume_l * ML_PER_L
    insulin = f" with insulin {load.insulin_units:g} units" if load.insulin_units else ""
    return (
        f"{infusion.fluid.name}, {volume_ml:g} mL{insulin} over {load.duration_min:g} min "
        f"from minute {load.starts_min:g}"
    )


def _loss_line(loss: Loss) -> str:
    salts = (("sodium", loss.sodium_mmol_l), ("potassium", loss.potassium_mmol_l))
    held = "".join(f", {name} {mmol:g} mmol/L" for name, mmol in salts if mmol is not None)
    lasts = "" if isinf(loss.duration_min) else f" over {loss.duration_min:g} min"
    starts = f" from minute {loss.starts_min:g}" if lasts or loss.starts_min else ""
    return f"{loss.kind} {loss.ml_h:g} mL/h{held}{lasts}{starts}"


def _course_lines(course: Course) -> Iterator[str]:
    """One line a quantity: its middle with low and high, at a few times from start to end."""
    shown = _times_shown(len(course.times_min))
    for name, (called, unit, decimals) in SHOWN.items():
        band = course.series[name]
        cells = (f"{course.times_min[at]:g} min {_cell(band, at, decimals)}" for at in shown)
        yield f"{called}{', ' if unit else ''}{unit}: {'; '.join(cells)}"


def _cell(band: Band, at: int, decimals: int) -> str:
    mid, low, high = (f"{line[at]:.{decimals}f}" for line in (band.mid, band.low, band.high))
    return mid if low == high else f"{mid} ({low} to {high})"


def _times_shown(count: int) -> list[int]:
    """Places of a few times, evenly spread, with the first and the last."""
    parts = min(TIMES_SHOWN, max(count - 1, 1))
    return sorted({round(part * (count - 1) / parts) for part in range(parts + 1)})
