"""What a person names, or what runs in a patient, as the facts about pairs name it. Pure."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any, Final

from rapidfuzz import fuzz, process

from app.catalogue.catalogue import Catalogue
from app.catalogue.fluid import Fluid
from app.catalogue.pairs.fact import ANY_DRUG, ANY_FLUID
from app.catalogue.pairs.substance import (
    PLAIN_FLUID,
    Kind,
    Substance,
    bag_of,
    drug_substance,
    fluid_substance,
    made_up_in,
)
from app.cautions.phrases import bag_with_additives
from app.cautions.shared.substances import Infusion, infusions_of, name_of, substance_of
from app.intake.fluids import FluidReading, NameBook
from app.intake.medicines.beside_name import NameReading, read_name
from app.intake.pace.cut import cut_rate_words
from app.intake.vocabulary import fold
from app.intake.wording.made_up import Doses
from app.patient.case import Case
from app.patient.order import CoInfusion, Order
from app.review.pairs.words import MARKS, word_of

WHICH: Final = "Which drug, fluid, blood component or nutrition is this?"
WHICH_FLUID: Final = "Which fluid this is, is not understood."
SUGGEST_FROM: Final = 70.0
SUGGESTIONS: Final = 4
LONGEST: Final = 120
# Of these the words mean a fluid, if not which, and no drug.
FLUIDS_BY_NAME: Final = ("dextrose", "glucose", "sodium_chloride")
# What the page offers to pick of a kind, and the kind; "plain fluid" is such a word too.
SAID_OF: Final = {said.lower(): mark for mark, said in MARKS.items()} | {PLAIN_FLUID: PLAIN_FLUID}
FLUID_MARKS: Final = ("blood", "calcium", "glucose", PLAIN_FLUID)
# Of these words a ward means the one salt it gives, and facts speak of that.
SALTS_MEANT: Final = ("bicarbonate", "magnesium")
# Not offered where it was written with a word nobody knows: that is the name of some fluid.
PLASMA: Final = "plasma"


@dataclass(frozen=True, slots=True)
class Meant:
    """One thing that words may mean: as facts name it, and as people do."""

    substance: Substance
    name: str


@dataclass(frozen=True, slots=True)
class Thing:
    """One thing asked about, or running. id: whoever asks knows it by this. meant: what it may be:
    one, several where the words are ambiguous, none where they are not understood. ask: what is
    open, with choices.
    """

    id: str
    written: str
    meant: tuple[Meant, ...] = ()
    ask: str = ""
    choices: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """As people say it; as written while it is not one thing."""
        return self.meant[0].name if len(self.meant) == 1 else f"“{self.written}”"

    @property
    def is_understood(self) -> bool:
        """True when it means something."""
        return bool(self.meant)


def read_thing(id_: str, words: str, book: NameBook) -> Thing:
    """What words mean: an id, a key or a mark as it stands, or a name as the ward writes it."""
    written = " ".join(words.split())[:LONGEST]
    exact = _exact(written, book)
    if exact is not None:
        return Thing(id_, written, (exact,))
    said = read_name(written, book)
    fluid = _fluid(written, book)
    salts = all("salt" in _entry(dose.key, book) for dose in fluid.doses)
    if fluid.fluid is not None and salts:
        return Thing(id_, written, (_bag(fluid.fluid, fluid.doses, book),))
    if fluid.candidates and salts and said.key in ("", *FLUIDS_BY_NAME):
        meant = tuple(_bag(each, fluid.doses, book) for each in fluid.candidates)
        return Thing(id_, written, meant, fluid.ask, fluid.choices)
    if said.key:
        return _of_drug(id_, written, said, book)
    return Thing(id_, written, (), said.ask or WHICH, _near(written, book))


def _fluid(written: str, book: NameBook) -> FluidReading:
    """What it means as a fluid; its rate says nothing of what it is."""
    reading = book.read(written)
    return reading if reading.is_read else book.read(cut_rate_words(fold(written))[0].strip())


def _exact(written: str, book: NameBook) -> Meant | None:
    fluid = book.catalogue.get(written)
    if fluid is not None:
        return Meant(fluid_substance(fluid), fluid.name)
    key = SAID_OF.get(written.lower()) or written.lower().replace(" ", "_")
    if key in MARKS and key not in SALTS_MEANT:
        return Meant(_class(key), word_of(key, book.catalogue))
    return None


def _class(mark: str) -> Substance:
    """Anything of a mark: facts about the mark name it, and no fact about one drug of it does."""
    kind: Kind = ANY_FLUID if mark in FLUID_MARKS else ANY_DRUG
    return Substance(frozenset({mark}), kind=kind, key=mark)


def _of_drug(id_: str, written: str, said: NameReading, book: NameBook) -> Thing:
    if said.key in MARKS and said.ask:
        meant = Meant(_class(said.key), word_of(said.key, book.catalogue))
        return Thing(id_, written, (meant,), said.ask)
    if said.ask and said.key in _classes(book):
        return Thing(id_, written, (), said.ask)
    kind: Kind = ANY_DRUG if (said.kind or "drug") == "drug" else ANY_FLUID
    drug = drug_substance(said.key, said.contents, kind)
    name = word_of(said.key, book.catalogue)
    if said.diluent is None or said.diluent.id == said.key:
        return Thing(id_, written, (Meant(drug, name),), said.ask)
    mixed = Meant(made_up_in(drug, fluid_substance(said.diluent)), f"{name} in {said.diluent.name}")
    return Thing(id_, written, (mixed,), said.ask)


def _bag(fluid: Fluid, doses: Doses, book: NameBook) -> Meant:
    added = tuple(drug_substance(d.key, _entry(d.key, book).get("also", ())) for d in doses)
    names = " and ".join(word_of(dose.key, book.catalogue) for dose in doses)
    name = f"{fluid.name} with {names}" if names else fluid.name
    return Meant(bag_of(fluid_substance(fluid), added), name)


def _entry(key: str, book: NameBook) -> dict[str, Any]:
    entry: dict[str, Any] = book.vocabulary.tables["drugs"]["drug"].get(key, {})
    return entry


def _classes(book: NameBook) -> frozenset[str]:
    drugs = book.vocabulary.tables["drugs"]["drug"].values()
    made = book.vocabulary.keep(
        "classes", "of drugs", lambda: frozenset(m for e in drugs for m in e.get("also", ()))
    )
    return made


def _near(written: str, book: NameBook) -> tuple[str, ...]:
    """The nearest names we know; nothing is guessed, they are only offered."""
    known = (*(fluid.name for fluid in book.catalogue), *_drug_names(book))
    near = process.extract(
        written, known, scorer=fuzz.token_sort_ratio, processor=fold, limit=SUGGESTIONS,
        score_cutoff=SUGGEST_FROM,
    )  # fmt: skip
    plasma = PLASMA in fold(written)
    return tuple(name for name, _, _ in near if not (plasma and name == PLASMA))


def _drug_names(book: NameBook) -> tuple[str, ...]:
    drugs = book.vocabulary.tables["drugs"]["drug"]
    return tuple(key.replace("_", " ") for key in drugs if key not in _classes(book))


def things_of(case: Case) -> tuple[Thing, ...]:
    """Everything that runs by itself: orders by their id, the rest by its place in the request."""
    places = {id(other): f"co_infusions[{n}]" for n, other in enumerate(case.co_infusions)}
    return tuple(
        thing_of(each.id if isinstance(each, Order) else places[id(each)], each, case)
        for each in infusions_of(case)
    )


def thing_of(id_: str, infusion: Infusion, case: Case) -> Thing:
    """One infusion of a case."""
    if isinstance(infusion, CoInfusion):
        return Thing(id_, infusion.name, tuple(_meant_beside(infusion)), infusion.ask)
    meant = tuple(_meant_order(infusion, case))
    return Thing(id_, infusion.written, meant, "" if meant else WHICH_FLUID)


def _meant_beside(other: CoInfusion) -> Iterator[Meant]:
    substance, name = substance_of(other), name_of(other)
    if other.key:
        yield Meant(substance, name)
    elif other.kind == "blood":
        yield Meant(_class("blood"), name)
    elif other.kind == "nutrition":
        marks = other.contents - {"parenteral_nutrition"}
        yield Meant(drug_substance("parenteral_nutrition", marks, ANY_FLUID), name)


def _meant_order(order: Order, case: Case) -> Iterator[Meant]:
    added = tuple(_of_additive(part, order, case) for part in _additives(order))
    fluids = order.candidates or ((order.fluid,) if order.fluid else ())
    for fluid in fluids:
        name = fluid.name if order.candidates else bag_with_additives(order)
        yield Meant(bag_of(fluid_substance(fluid), added), name)


def _additives(order: Order) -> tuple[Substance, ...]:
    """The parts of a bag that were put into it."""
    parts = substance_of(replace(order, fluid=None)).parts
    return parts


def _of_additive(part: Substance, order: Order, case: Case) -> Substance:
    """An additive with the class marks that the vocabulary gave the same drug of the same bag."""
    marks = (
        o.contents for o in case.co_infusions if o.carried_by == order.id and o.key == part.key
    )
    return replace(part, marks=part.marks.union(*marks) - part.names)


def names_known(catalogue: Catalogue, words: frozenset[str]) -> tuple[str, ...]:
    """What may be picked: every fluid that may be hung, and the drugs that facts speak of."""
    fluids = tuple(fluid.name for fluid in catalogue if not fluid.never_hung)
    drugs = {word_of(word, catalogue) for word in words if catalogue.get(word) is None}
    return tuple(sorted({*fluids, *drugs} - {ANY_DRUG, ANY_FLUID}, key=str.lower))
