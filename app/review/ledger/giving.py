"""How much of an infusion is given in 24 hours, as written or as usual in an adult."""

from dataclasses import dataclass
from typing import Final

from app.catalogue.vehicles.vehicle import Vehicle
from app.patient.order import CoInfusion

HOURS_PER_DAY: Final = 24.0
MINUTES_PER_DAY: Final = 1440.0
MINUTES_PER_HOUR: Final = 60.0


@dataclass(frozen=True, slots=True)
class Giving:
    """A day of one infusion.

    day_ml: its volume, None when it cannot be told. times: how often what is written of its dose is
    given. doses: separate doses, each with its flush; None for what runs. usual_times and
    usual_volume: an adult's were taken. more_may_come: how often is not known, one is counted.
    """

    day_ml: float | None
    times: float
    doses: float | None = None
    usual_times: bool = False
    usual_volume: bool = False
    more_may_come: bool = False

    @property
    def is_usual(self) -> bool:
        """Something of it is only what is usual."""
        return self.usual_times or self.usual_volume


def giving_of(other: CoInfusion, usual: Vehicle | None, *, adult: bool) -> Giving:
    """A day of an infusion. A usual volume or number of doses is taken in an adult only."""
    return _running(other) if runs_all_day(other, usual) else _dosed(other, usual, adult=adult)


def runs_all_day(other: CoInfusion, usual: Vehicle | None) -> bool:
    """Written to run on, usually run all day, or told by a rate with no volume and no end."""
    if other.schedule.is_continuous or other.runs_on:
        return True
    if other.schedule.doses_per_day is not None:
        return False
    if usual is not None and usual.runs_all_day:
        return True
    return other.rate_ml_h is not None and other.volume_ml is None and other.duration_min is None


def _running(other: CoInfusion) -> Giving:
    volume = other.volume_ml
    if other.rate_ml_h is not None:
        ml = other.rate_ml_h * HOURS_PER_DAY
        return Giving(ml, ml / volume if volume else other.times_a_day)
    if volume is not None and other.duration_min:
        times = MINUTES_PER_DAY / other.duration_min
        return Giving(volume * times, times)
    doses = other.schedule.doses_per_day
    if doses is None:
        return Giving(None, 0.0, more_may_come=True)
    return Giving(None if volume is None else volume * doses, doses)


def _dosed(other: CoInfusion, usual: Vehicle | None, *, adult: bool) -> Giving:
    written_ml = _written_ml(other)
    doses, usual_doses, more = _doses(other, usual, adult=adult)
    volume, usual_volume = written_ml, False
    if volume is None and usual is not None and adult:
        volume, usual_volume = usual.volume_ml, True
        if volume is not None and other.units is not None:
            volume *= other.units
    return Giving(
        None if volume is None else volume * doses,
        doses, doses, usual_doses, usual_volume, more,
    )  # fmt: skip


def _written_ml(other: CoInfusion) -> float | None:
    """The volume of one dose, as written or by its rate and length."""
    if other.volume_ml is not None or other.rate_ml_h is None or other.duration_min is None:
        return other.volume_ml
    return other.rate_ml_h * other.duration_min / MINUTES_PER_HOUR


def _doses(other: CoInfusion, usual: Vehicle | None, *, adult: bool) -> tuple[float, bool, bool]:
    """Doses in 24 h, whether that is only usual, and whether more may come."""
    if other.schedule.doses_per_day is not None:
        return other.schedule.doses_per_day, False, False
    counted = other.units is not None or other.volume_ml is not None
    if other.kind != "drug" or other.brings is not None or is_a_fluid(other):
        return 1.0, False, other.kind == "blood" and not counted
    if usual is not None and adult:
        return usual.doses_per_day, True, False
    return 1.0, False, True


def is_a_fluid(other: CoInfusion) -> bool:
    """A fluid of the catalogue named as it is, with no drug in it."""
    if other.key == "albumin":
        return True
    return other.diluent is not None and other.key in (other.diluent.id, "sodium_chloride")
