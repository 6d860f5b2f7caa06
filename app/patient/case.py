"""One patient with everything ordered and running: what the rules look at."""

from dataclasses import dataclass
from datetime import datetime

from app.catalogue.pairs.facts import NO_FACTS, PairFacts
from app.catalogue.pairs.local_note import NO_NOTES, Notes
from app.chemistry.composition import Composition
from app.patient.known import NotKnown
from app.patient.order import CoInfusion, Order, Question
from app.patient.snapshot import Snapshot


@dataclass(frozen=True, slots=True)
class Case:
    """A patient, all fluid orders, and what else runs.

    questions: doubts about the patient. pairs: what is known of two things in one lumen, put in by
    whoever holds the knowledge. set_aside: what is written beside the fluids and does not run:
    stopped, still to come, denied, or given otherwise than by vein. not_given: orders whose words
    say that they do not run. notes: local notes on pairs that the request carries.
    """

    patient: Snapshot
    orders: tuple[Order, ...] = ()
    co_infusions: tuple[CoInfusion, ...] = ()
    questions: tuple[Question, ...] = ()
    pairs: PairFacts = NO_FACTS
    set_aside: tuple[CoInfusion, ...] = ()
    not_given: tuple[Order, ...] = ()
    notes: Notes = NO_NOTES

    @property
    def now(self) -> datetime:
        """The moment the case is looked at."""
        return self.patient.now


@dataclass(frozen=True, slots=True)
class Situation:
    """One order in its case: what an order rule looks at."""

    case: Case
    order: Order

    @property
    def patient(self) -> Snapshot:
        """The patient."""
        return self.case.patient

    @property
    def mix(self) -> Composition:
        """What one litre of the bag holds with its additives; NotKnown when the fluid is not."""
        if self.order.mix is None:
            raise NotKnown("fluid", "missing", f"“{self.order.written}” is not understood")
        return self.order.mix

    @property
    def others(self) -> tuple[Order, ...]:
        """The patient's other orders."""
        return tuple(o for o in self.case.orders if o is not self.order)
