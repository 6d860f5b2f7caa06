"""The JSON of POST /api/predict, as the OpenAPI document describes it.

Reading is done by app/review/predict; a contract test holds these models against what it takes
and what it gives.
"""

from datetime import datetime
from typing import Literal

from pydantic import BaseModel, Field, create_model

from app.api.shapes import AdditiveIn, Out, PatientIn
from app.review.predict.asked import MOST_INFUSIONS, MOST_LOSSES, MOST_POINTS
from app.review.predict.compositions import ION, IONS, SOLUTE, SOLUTES
from app.review.predict.losses import LOST, POTASSIUM, SODIUM

Kind = Literal["urine", "gastric", "blood", "insensible"]
Mode = Literal["constant", "responding"]

CompositionIn = create_model(
    "CompositionIn",
    __doc__="What one litre holds; what is not named is absent. Glucose as anhydrous.",
    **{f"{ion}_mmol_l": (float | None, Field(None, ge=0, le=ION.high)) for ion in IONS},
    **{f"{name}_g_l": (float | None, Field(None, ge=0, le=SOLUTE.high)) for name in SOLUTES},
)  # type: ignore[call-overload]


class InfusionIn(BaseModel):
    """What runs, evenly. `fluid` is words, which must mean one fluid; or else `composition`."""

    fluid: str | None = Field(None, examples=["lactated Ringer's"])
    composition: CompositionIn | None = None  # type: ignore[valid-type]
    additives: list[AdditiveIn] | None = None
    volume_ml: float | None = Field(None, gt=0, examples=[1000])
    starts_min: float | None = Field(None, ge=0, description="0 when not given")
    duration_min: float | None = Field(None, ge=0, examples=[60])
    duration_h: float | None = Field(None, ge=0, description="the same in hours")
    rate_ml_h: float | None = Field(
        None, gt=0, description="instead of a duration, or of a volume; all three must agree"
    )


class LossIn(BaseModel):
    """What is lost, all the time or for a while; urine not given goes on as the patient's, else as
    in health.

    Sodium and potassium of a litre of it: the patient's own urine's when not given, else usual.
    """

    kind: Kind
    ml_h: float = Field(ge=0, le=LOST.high)
    sodium_mmol_l: float | None = Field(None, ge=0, le=SODIUM.high)
    potassium_mmol_l: float | None = Field(None, ge=0, le=POTASSIUM.high)
    starts_min: float | None = Field(None, ge=0, description="0 when not given")
    duration_min: float | None = Field(None, gt=0, description="to the end when not given")


class PredictRequest(BaseModel):
    """One patient, what runs in, what is lost, and how far and how finely to look."""

    now: datetime | str | None = None
    setting: str | None = Field(None, description="as for POST /api/review")
    patient: PatientIn | None = None
    infusions: list[InfusionIn] | None = Field(None, max_length=MOST_INFUSIONS)
    losses: list[LossIn] | None = Field(None, max_length=MOST_LOSSES)
    horizon_min: float | None = Field(None, gt=0, description="240 when not given; at most 7 days")
    step_min: float | None = Field(
        None, gt=0, description=f"15 when not given; at most {MOST_POINTS} points in all"
    )
    pco2_mode: Mode | None = Field(None, description="constant when not given")


class AssumedOut(Out):
    """A value that nobody gave, and why this one was taken."""

    name: str
    value: float
    unit: str
    why: str


class BandOut(Out):
    """The middle person's values and the range's ends, one for each time."""

    mid: list[float]
    low: list[float]
    high: list[float]


class SeriesOut(Out):
    """Every quantity, its unit in its name; haematocrit in points (%)."""

    sodium_mmol_l: BandOut
    potassium_mmol_l: BandOut
    chloride_mmol_l: BandOut
    bicarbonate_mmol_l: BandOut
    base_excess_mmol_l: BandOut
    ph: BandOut
    albumin_g_l: BandOut
    osmolality_mosm_kg: BandOut
    haematocrit: BandOut
    glucose_mmol_l: BandOut
    lactate_mmol_l: BandOut
    plasma_volume_ml: BandOut
    interstitial_volume_ml: BandOut
    intracellular_volume_ml: BandOut


class InfusionOut(Out):
    """An infusion as understood; `composition` is that of a litre with what is added."""

    fluid_id: str | None = Field(description="null for a composition of the request's own")
    name: str
    volume_ml: float
    starts_min: float
    duration_min: float
    insulin_units: float = Field(description="soluble insulin in the whole of it")
    composition: dict[str, float | None]


class NoteOut(Out):
    """How something was read that was doubtful, old or not used."""

    field: str
    written: str
    text: str


class PredictReply(Out):
    """The prediction, never without its range, what was assumed and what is not modelled."""

    assumed: list[AssumedOut]
    times_min: list[float]
    series: SeriesOut
    interval: str = Field(description="what low to high covers")
    not_modelled: list[str]
    infusions: list[InfusionOut]
    losses: list[LossIn]
    horizon_min: float
    step_min: float
    pco2_mode: Mode
    notes: list[NoteOut]
