"""What is lost, as a request says it, and the salt in it: as told, the patient's own, or usual."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import inf
from typing import Final, cast

from app.intake.read import URINE
from app.intake.request import Reader, Span
from app.patient.known import NotKnown
from app.patient.snapshot import Snapshot
from app.physiology.course.body import Assumed, is_scant
from app.physiology.course.loads import LOST as USUAL
from app.physiology.course.loads import Loss, LossKind
from app.review.predict.notes import OBSERVATIONS, Note
from app.review.predict.pace import DURATION, START

# Nobody bleeds faster (common practice, no source).
LOST: Final = Span(0, 10_000, "mL/h", {"ml/h": 1.0, "ml/hr": 1.0})
LASTS: Final = replace(DURATION, above=True)
MMOL_L: Final = {"mmol/l": 1.0, "meq/l": 1.0}
SODIUM: Final = Span(0, 300, "mmol/L", MMOL_L)
POTASSIUM: Final = Span(0, 200, "mmol/L", MMOL_L)
SALTS: Final = {"sodium_mmol_l": SODIUM, "potassium_mmol_l": POTASSIUM}
# Of urine: the result that says what is in it.
RESULTS: Final = {"sodium_mmol_l": "urine_sodium", "potassium_mmol_l": "urine_potassium"}
LOSS_KINDS: Final = {kind: kind for kind in ("urine", "gastric", "blood", "insensible")}
BLOOD_AS_IT_IS: Final = "Blood is lost as it is in the patient: this figure is not used."
NO_URINE: Final = (
    "Not used: without a urine volume excess is passed as in health, with a salt of its own."
)


@dataclass(frozen=True, slots=True)
class Losses:
    """Everything lost all the time, what of it nobody said, and what to know of it."""

    losses: tuple[Loss, ...]
    assumed: tuple[Assumed, ...]
    notes: tuple[Note, ...]


def read_losses(readers: tuple[Reader, ...], patient: Snapshot) -> Losses:
    """The losses of a request; scant urine of the patient is one, unless the request gives urine.

    What cannot be read is refused by its field.
    """
    notes: list[Note] = []
    read = [_loss(reader, notes) for reader in readers]
    told = [loss for loss in read if loss is not None]
    assumed: list[Assumed] = []
    scant = _scant_urine(patient, told)
    if scant is not None:
        why = "the patient's urine now, taken to go on so"
        assumed.append(Assumed("urine", scant.ml_h, "mL/h", why))
        told.append(scant)
    losses = tuple(_with_salt(loss, patient, assumed) for loss in told)
    notes += _notes_of_urine(patient, losses)
    return Losses(losses, tuple(assumed), tuple(notes))


def _loss(reader: Reader, notes: list[Note]) -> Loss | None:
    kind, ml_h = reader.choice("kind", LOSS_KINDS), reader.number("ml_h", LOST)
    for name, accepted in (("kind", " or ".join(LOSS_KINDS)), ("ml_h", LOST.accepted)):
        if reader.raw(name) in (None, ""):
            reader.refuse(name, None, accepted)
    salts = {name: reader.number(name, span) for name, span in SALTS.items()}
    starts, lasts = reader.number("starts_min", START), reader.number("duration_min", LASTS)
    reader.ask_unknown()
    if kind is None or ml_h is None:
        return None
    if kind == "blood":
        given = (name for name, value in salts.items() if value is not None)
        notes += [Note(reader.at(name), str(reader.raw(name)), BLOOD_AS_IT_IS) for name in given]
        salts = {}
    return Loss(
        cast(LossKind, kind), ml_h, **salts,
        starts_min=starts or 0.0, duration_min=inf if lasts is None else lasts,
    )  # fmt: skip


def _scant_urine(patient: Snapshot, told: list[Loss]) -> Loss | None:
    """Scant urine goes on as it is, unless the losses say what it will be."""
    if patient.urine_ml_h is None or any(loss.kind == "urine" for loss in told):
        return None
    if not is_scant(patient.urine_ml_h, patient.weight_kg):
        return None
    return Loss("urine", min(patient.urine_ml_h, URINE.high))


def _with_salt(loss: Loss, patient: Snapshot, assumed: list[Assumed]) -> Loss:
    """The loss with every figure of its salt; of urine the patient's own results count."""
    if loss.kind == "blood" or not loss.ml_h:
        return loss
    salts = {name: getattr(loss, name) for name in SALTS}
    for name in (name for name, told in salts.items() if told is None):
        ion = name.removesuffix("_mmol_l")
        value, why = _own(loss, RESULTS[name], patient)
        if value is None:
            value, why = getattr(USUAL[loss.kind], ion), f"not given: usual for {loss.kind}"
        assumed.append(Assumed(f"{loss.kind} {ion}", value, "mmol/L", why))
        salts[name] = value
    return replace(loss, **salts)


def _own(loss: Loss, result: str, patient: Snapshot) -> tuple[float | None, str]:
    """What the patient's own urine held, where it is not stale."""
    if loss.kind != "urine":
        return None, ""
    try:
        newest = patient.result(result)
    except NotKnown:
        return None, ""
    age = patient.age_text(newest)
    return newest.value, f"the patient's own urine, {age}{'' if age.startswith('of') else ' old'}"


def _notes_of_urine(patient: Snapshot, losses: tuple[Loss, ...]) -> Iterator[Note]:
    """Results of urine that were not used, and why."""
    counted = any(loss.kind == "urine" for loss in losses)
    for result in RESULTS.values():
        for newest in patient.results.get(result, ())[:1]:
            if not counted:
                yield Note(OBSERVATIONS, newest.as_written, NO_URINE)
            elif newest.value is not None and newest.is_stale(patient.now):
                name, age = newest.name.replace("_", " "), patient.age_text(newest)
                yield Note(OBSERVATIONS, newest.as_written, f"Not used: this {name} is {age} old.")
