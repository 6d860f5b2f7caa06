"""A bag looked at over a whole day: as it is drawn, the ways that kidneys may take, and by hand."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from app.cautions.families.sodium.tonicity import (
    KEEPING_DRUGS,
    STRONG_DRIVES,
    WATER_KEEPING,
    WEAK_DRIVES,
    WEAK_DRUGS,
)
from app.patient.snapshot import ADULT_FROM_YEARS
from app.physiology.course.body import Subject, is_scant
from app.physiology.course.course import Course, course_of
from app.physiology.course.loads import Load, Loss
from app.physiology.sodium import sodium_change_of_balance_mmol_l
from app.web.pictures.curves import Curve
from app.web.prediction.asked import MINUTES_PER_HOUR, Asked, Bag
from app.web.prediction.losses import is_off, losses_of, urine_salt_known
from app.web.prediction.person import Person

SERIES: Final = "sodium_mmol_l"
ML_PER_L: Final = 1000.0
DAY_MIN: Final = 1440.0
STEP_MIN: Final = 20.0
LOW_MMOL_L: Final = 135.0
# What is shown of a way is its middle alone: one person is enough.
ONE_PERSON: Final = 1
MANY: Final = 500
# Urine as dilute as is usual when water is passed, mmol/L (from memory).
DILUTE_SODIUM, DILUTE_POTASSIUM = 20.0, 10.0
# Ways that lie no further apart than this are one, mmol/L.
APART_MMOL_L: Final = 0.5
# Urine so brisk that it alone can raise a low sodium past its limit, mL/h or, in a child, mL/kg/h
# (common practice, no source).
BRISK_ML_H: Final = 100.0
BRISK_CHILD_ML_KG_H: Final = 2.0
NAMES: Final = ("kept", "passed", "dilute", "salty")
KEEPING: Final = frozenset({*WATER_KEEPING, *STRONG_DRIVES, *WEAK_DRIVES})
DRUGS: Final = (*KEEPING_DRUGS, *WEAK_DRUGS)


@dataclass(frozen=True, slots=True)
class Trial:
    """What is tried on whom. courses: by the bag's mark. beside: what else runs, and follows."""

    asked: Asked
    person: Person
    subject: Subject
    courses: Mapping[str, Course]
    beside: tuple[Load, ...] = ()

    @property
    def losses(self) -> tuple[Loss, ...]:
        """What is lost all the time."""
        return losses_of(self.asked, self.person)

    @property
    def urine_ml_h(self) -> float | None:
        """Urine that is counted, mL/h; None where kidneys pass what they do of their own."""
        return next((loss.ml_h for loss in self.losses if loss.kind == "urine"), None)


@dataclass(frozen=True, slots=True)
class Way:
    """One way that it may go. word: of it, short; said: in which case, inside a sentence."""

    word: str
    said: str
    curve: Curve

    @property
    def name(self) -> str:
        """Of its line in a picture, in one word."""
        return next(name for name in NAMES if name in self.word)


@dataclass(frozen=True, slots=True)
class Look:
    """One bag over a day. ways: both ends of what cannot be known. by_hand_mmol_l: the change by
    the balance of salt and water, at the hour at which it is largest.
    """

    mark: str
    drawn: Curve
    ways: tuple[Way, ...] = ()
    by_hand_mmol_l: float = 0.0
    by_hand_h: float = 0.0


def looks_of(trial: Trial) -> tuple[Look, ...]:
    """Every bag over a day, however far the pictures look."""
    alone = len(trial.asked.bags) == 1
    return tuple(_look(bag, "" if alone else bag.mark, trial) for bag in trial.asked.bags)


def _look(bag: Bag, mark: str, trial: Trial) -> Look:
    course = trial.courses[bag.mark]
    if course.times_min[-1] < DAY_MIN:
        course = _course(bag, trial, trial.losses)
    ways = tuple(_ways(bag, mark, trial))
    at_min, change = _by_hand(bag, trial)
    return Look(
        mark=mark,
        drawn=curve_over_day(course, mark),
        ways=ways if _are_apart(ways) else (),
        by_hand_mmol_l=change,
        by_hand_h=at_min / MINUTES_PER_HOUR,
    )


def curve_over_day(course: Course, mark: str) -> Curve:
    """Sodium of a course, whole."""
    band = course.series[SERIES]
    hours = tuple(at / MINUTES_PER_HOUR for at in course.times_min)
    return Curve(mark, hours, band.mid, band.low, band.high)


def _course(
    bag: Bag,
    trial: Trial,
    losses: Sequence[Loss],
    *,
    samples: int = MANY,
    keeps_water: bool | None = None,
) -> Course:
    return course_of(
        trial.subject,
        (_load(bag, trial.asked), *trial.beside),
        losses,
        horizon_min=DAY_MIN,
        step_min=STEP_MIN,
        responding_pco2=trial.person.responds,
        samples=samples,
        also_min=(trial.asked.minutes or DAY_MIN,),
        keeps_water=keeps_water,
    )


def _load(bag: Bag, asked: Asked) -> Load:
    return bag.load(asked.volume_ml or 0.0, asked.minutes or DAY_MIN)


def _ways(bag: Bag, mark: str, trial: Trial) -> Iterator[Way]:
    """Both ends of what cannot be known: whether kidneys keep water, or what urine holds."""
    urine = trial.urine_ml_h
    if urine is not None:
        if is_urine_open(trial):
            yield Way("urine salty", "if urine is salty", _way(bag, mark, trial, trial.losses))
            losses = tuple(_diluted(loss) for loss in trial.losses)
            yield Way("urine dilute", "if it is dilute", _way(bag, mark, trial, losses))
        return
    if trial.subject.kidneys_fail or not keeping_matters(trial):
        return
    for word, said, keeps in (
        ("water passed", "if kidneys pass the water", False),
        ("water kept", "if they keep it", True),
    ):
        yield Way(word, said, _way(bag, mark, trial, trial.losses, keeps))


def _way(
    bag: Bag, mark: str, trial: Trial, losses: Sequence[Loss], keeps: bool | None = None
) -> Curve:
    """One way, its middle alone."""
    course = _course(bag, trial, losses, samples=ONE_PERSON, keeps_water=keeps)
    curve = curve_over_day(course, mark)
    return replace(curve, low=curve.mid, high=curve.mid)


def brisk_ml_h(person: Person) -> float:
    """Urine that counts as brisk, mL/h."""
    if is_young(person) and person.weight_kg is not None:
        return BRISK_CHILD_ML_KG_H * person.weight_kg
    return BRISK_ML_H


def is_young(person: Person) -> bool:
    """A child, as far as an age is known."""
    return person.age_years is not None and person.age_years < ADULT_FROM_YEARS


def _diluted(loss: Loss) -> Loss:
    if loss.kind != "urine":
        return loss
    return Loss("urine", loss.ml_h, DILUTE_SODIUM, DILUTE_POTASSIUM)


def is_urine_open(trial: Trial) -> bool:
    """Urine that is counted and not scant, of which nobody knows what it holds, while sodium is
    off.
    """
    urine, sodium = trial.urine_ml_h, trial.subject.sodium_mmol_l
    if urine is None or urine_salt_known(trial.asked, trial.person) or not is_off(sodium):
        return False
    return not is_scant(urine, trial.person.weight_kg)


def keeping_matters(trial: Trial) -> bool:
    """A low sodium, a child, or what makes kidneys keep water: on record, or a drug given."""
    person = trial.person
    if trial.subject.sodium_mmol_l < LOW_MMOL_L:
        return True
    if is_young(person):
        return True
    medications = () if person.snapshot is None else person.snapshot.medications.found
    return not person.conditions.isdisjoint(KEEPING) or any(d in medications for d in DRUGS)


def _are_apart(ways: Sequence[Way]) -> bool:
    """True where the ways part far enough to be told apart."""
    if not ways:
        return False
    first, last = ways[0].curve, ways[-1].curve
    return any(abs(a - b) >= APART_MMOL_L for a, b in zip(first.mid, last.mid, strict=True))


def _by_hand(bag: Bag, trial: Trial) -> tuple[float, float]:
    """When it has changed most, min, and by how much: when the bag is in, or after the day."""
    loads = (_load(bag, trial.asked), *trial.beside)
    moments = (min(trial.asked.minutes or DAY_MIN, DAY_MIN), DAY_MIN)
    changes = [(at, _balance(loads, trial, at)) for at in moments]
    return max(changes, key=lambda one: abs(one[1]))


def _balance(loads: Sequence[Load], trial: Trial, minute: float) -> float:
    """By salt and water in, less the losses told but for blood, which is as salty as plasma."""
    lost = [
        (loss.ml_h / ML_PER_L * minute / MINUTES_PER_HOUR, loss.salt)
        for loss in trial.losses
        if loss.kind != "blood"
    ]
    given = [
        (load.composition.cation_salt_mmol_l, load.litres_between(0.0, minute)) for load in loads
    ]
    return sodium_change_of_balance_mmol_l(
        salt_gain_mmol=sum(salt * litres for salt, litres in given)
        - sum(litres * (salt.sodium + salt.potassium) for litres, salt in lost),
        water_gain_l=sum(litres for _, litres in given) - sum(litres for litres, _ in lost),
        sodium_mmol_l=trial.subject.sodium_mmol_l,
        body_water_l=trial.subject.water_l,
    )
