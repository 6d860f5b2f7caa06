"""What was prescribed, as understood from what was written."""

from dataclasses import dataclass
from datetime import datetime
from typing import Final, Literal

from app.catalogue.fluid import ML_PER_L, Fluid
from app.chemistry.composition import Composition
from app.patient.schedule import NO_SCHEDULE, Schedule

# A bag is renewed unless it is small and quick, fast, or strong (common practice, no source).
SMALL_BAG_ML: Final = 250.0
SMALL_BAG_H: Final = 2.0
RUNS_ON_TO_ML_H: Final = 250.0
HYPERTONIC_SODIUM_MMOL_L: Final = 200.0
HOURS_PER_DAY: Final = 24.0
# Infusions set by effect: one syringe after another (common practice, no source).
RUN_ON: Final = frozenset({"vasoactive", "insulin", "propofol"})
Purpose = Literal[
    "resuscitation", "maintenance", "replacement", "redistribution", "carrier", "correction"
]
# How something written beside the fluids stands: elsewhere is by mouth, muscle or skin.
Stands = Literal["runs", "ended", "later", "never", "elsewhere"]


@dataclass(frozen=True, slots=True)
class AdditiveDose:
    """Something added to the bag, as a total for the order's whole volume.

    added: composition change, in mmol (or g) of each ion and solute in total, not per litre.
    volume_ml: what it adds to the bag's volume, None when not stated. unread: why it could not
    be turned into amounts, empty when it could. per_litre: the amounts are in each litre, as
    written ("40 mmol/L"), not in total.
    """

    substance: str
    added: Composition
    as_written: str
    volume_ml: float | None = None
    unread: str = ""
    per_litre: bool = False


@dataclass(frozen=True, slots=True)
class Question:
    """Something the writer must be asked: the field, what was written, what it could mean.

    minor: how something was read, which hardly anyone would doubt; never loud.
    """

    field: str
    written: str
    ask: str
    choices: tuple[str, ...] = ()
    minor: bool = False


@dataclass(frozen=True, slots=True)
class Order:
    """One fluid order.

    fluid is None when the words name no single entry; candidates then holds the entries they
    could mean (empty: none). rate, volume and duration are as given or worked out from the other
    two; None when neither. running_h: how long it has already run, None when not known.
    is_bolus: written as a bolus, or given fast for resuscitation. text: the whole order as written,
    beside its fields. reasons: why it is given, as condition keys and keys of its own kind
    ("relowering", "specialist_plan"). bags: how many bags of the volume are ordered, one
    after another; bag_number: which of several orders in turn this is, 0 when not said; follows:
    it starts when another is done. not_given: the words that say that it does not run.
    is_over: its bag is empty and the next one hangs.
    """

    id: str
    written: str
    fluid: Fluid | None
    candidates: tuple[Fluid, ...] = ()
    additives: tuple[AdditiveDose, ...] = ()
    volume_ml: float | None = None
    rate_ml_h: float | None = None
    duration_h: float | None = None
    starts_at: datetime | None = None
    running_h: float | None = None
    review_at: datetime | None = None
    lumen: str | None = None
    purpose: Purpose | None = None
    purpose_written: str = ""
    is_bolus: bool = False
    mix: Composition | None = None
    questions: tuple[Question, ...] = ()
    stated_duration: bool = False
    text: str = ""
    reasons: frozenset[str] = frozenset()
    bags: int = 1
    bag_number: int = 0
    follows: bool = False
    not_given: str = ""
    is_over: bool = False

    @property
    def why_written(self) -> str:
        """The words in which its reason stands, as written."""
        return self.text or self.purpose_written or self.written

    @property
    def called(self) -> str:
        """The fluid's name; as written while the words may mean several, or nothing we know, or
        a strength of glucose that no bag has.
        """
        if self.fluid is None or self.candidates:
            return self.written
        made_up = any(dose.substance == "glucose" and dose.per_litre for dose in self.additives)
        return self.written if made_up and self.written else self.fluid.name

    @property
    def litres_per_day(self) -> float | None:
        """Volume given in 24 h at this rate, or the whole volume when it ends sooner, L."""
        return self.litres_within(HOURS_PER_DAY)

    @property
    def whole_ml(self) -> float | None:
        """All that is ordered, mL: every bag, or as long as it is written to run."""
        if self.volume_ml is None:
            return None
        whole = self.volume_ml * self.bags
        if self.stated_duration and self.rate_ml_h is not None and self.duration_h is not None:
            return max(whole, self.rate_ml_h * self.duration_h)
        return whole

    def litres_within(self, hours: float) -> float | None:
        """What it gives in the next hours, L; None with neither rate nor volume.

        A bag runs on and is renewed unless it is given once.
        """
        if self.is_over:
            return 0.0
        whole_ml = self.whole_ml
        if self.rate_ml_h is None:
            return None if whole_ml is None else whole_ml / ML_PER_L
        running_l = self.rate_ml_h * hours / ML_PER_L
        if whole_ml is not None and self.is_given_once:
            return min(running_l, whole_ml / ML_PER_L)
        return running_l

    @property
    def is_given_once(self) -> bool:
        """True when the ordered volume is all that is meant: no next bag is hung after it."""
        if self.stated_duration or self.is_bolus or self.purpose == "resuscitation":
            return True
        if self.mix is not None and self.mix.sodium_mmol_l > HYPERTONIC_SODIUM_MMOL_L:
            return True
        if self.purpose == "maintenance" or self.rate_ml_h is None or self.volume_ml is None:
            return False
        return self.rate_ml_h > RUNS_ON_TO_ML_H or (
            self.volume_ml <= SMALL_BAG_ML and self.volume_ml / self.rate_ml_h <= SMALL_BAG_H
        )

    @property
    def carries_a_drug(self) -> bool:
        """True when something in the bag is a drug and no salt: its protocol sets the rate."""
        return any(not dose.unread and dose.added == Composition() for dose in self.additives)

    def per_hour(self, amount_per_litre: float) -> float | None:
        """Amount given each hour at this rate, from an amount per litre; None with no rate."""
        return None if self.rate_ml_h is None else amount_per_litre * self.rate_ml_h / ML_PER_L


@dataclass(frozen=True, slots=True)
class CoInfusion:
    """Something else that runs: a drug, a blood component, nutrition, as understood.

    key: the vocabulary's key ("ceftriaxone", "red_cells"), empty when not understood. contents:
    marks of what it brings ("calcium", "potassium", "insulin") from the vocabulary. lumen: where
    it runs, None when not said. diluent: the fluid it is mixed in, when named. arrangement: how
    the words say it shares a line ("in turn" = one after the other with a flush; "separate" =
    another line), empty when they do not. brings: what the whole dose holds, in mmol (or g) in
    total, where the words state an amount ("potassium chloride 20 mmol in 100 mL"). carried_by: the
    id of the order in whose bag it was put, empty when it runs by itself. osmolarity_mosm_l: as
    the words state it ("1,200 mOsm/L"), None when they do not. schedule: how often it is given
    and how much of it; volume_ml is then that of one dose. stands: whether it runs. ask: what its
    name leaves open ("Which antibiotic?"), empty when nothing.
    """

    name: str
    kind: Literal["drug", "blood", "nutrition"]
    key: str = ""
    contents: frozenset[str] = frozenset()
    lumen: str | None = None
    diluent: Fluid | None = None
    volume_ml: float | None = None
    duration_min: float | None = None
    units: float | None = None
    arrangement: Literal["", "in turn", "separate", "together"] = ""
    rate_ml_h: float | None = None
    brings: Composition | None = None
    carried_by: str = ""
    osmolarity_mosm_l: float | None = None
    schedule: Schedule = NO_SCHEDULE
    stands: Stands = "runs"
    ask: str = ""

    @property
    def times_a_day(self) -> float:
        """How many times its volume is given in 24 h: as written, else once."""
        return self.schedule.doses_per_day or 1.0

    @property
    def runs_on(self) -> bool:
        """True for what runs all day by its words or its kind, and has no times of its own."""
        if self.schedule.doses_per_day is not None:
            return False
        return self.schedule.is_continuous or not RUN_ON.isdisjoint(self.contents)

    @property
    def day_ml(self) -> float | None:
        """What its own carrier gives in 24 h, mL: its volume at each dose, or else its rate.

        A syringe that runs all day is followed by the next. None when neither is written.
        """
        if self.rate_ml_h is not None and self.runs_on:
            return self.rate_ml_h * HOURS_PER_DAY
        if self.volume_ml is not None:
            return self.volume_ml * self.times_a_day
        return None if self.rate_ml_h is None else self.rate_ml_h * HOURS_PER_DAY
