"""What the name of something that runs beside the fluids says."""

from dataclasses import dataclass, replace
from re import Pattern, compile
from typing import Final, Literal

from app.catalogue.fluid import ML_PER_L, Fluid
from app.chemistry.composition import Composition
from app.chemistry.mixing import added, scaled
from app.intake.additives import dose_of
from app.intake.bedside.arrangement import Arrangement, arrangement_of, without_arrangement
from app.intake.fluids import NameBook
from app.intake.medicines.clauses import clauses_of, standing_of, without_dead
from app.intake.medicines.diluent import carrier, diluted, fluid_itself, marks_of
from app.intake.medicines.names import named, plain_names, vague_ask
from app.intake.medicines.nutrition import FREE_OF, free_of, osmolarity_in
from app.intake.medicines.standing import is_doubted
from app.intake.orders.schedule import cut_times, read_schedule
from app.intake.pace.cut import cut_rate_words
from app.intake.rates import Flow, flow_of_words
from app.intake.recipe import recipe_of
from app.intake.vocabulary import Hit, Meaning, fold, plain_words, words_of
from app.patient.order import Stands
from app.patient.schedule import NO_SCHEDULE, Schedule

Kind = Literal["drug", "blood", "nutrition"]
NOTHING_SAID: Final = Flow()
# "1 L 8-hourly" is one bag after another, "100 mL 8-hourly" a dose at each time (common practice).
BAG_FROM_ML: Final = 500.0
UNITS: Final[Pattern[str]] = compile(
    r"(\d+(?:\.\d+)?)\s*(?:x\s*)?(?:units?|u\b|bags?|pools?|packs?|doses?|adult doses?)"
)
DOUBTED: Final = "Is it given? It is written as not sure."


@dataclass(frozen=True, slots=True)
class NameReading:
    """What the name of a co-infusion says. ask: what it leaves open."""

    key: str = ""
    kind: Kind | None = None
    contents: frozenset[str] = frozenset()
    diluent: Fluid | None = None
    volume_ml: float | None = None
    units: float | None = None
    arrangement: Arrangement = ""
    flow: Flow = NOTHING_SAID
    brings: Composition | None = None
    schedule: Schedule = NO_SCHEDULE
    in_each_litre: Composition | None = None
    stands: Stands = "runs"
    ask: str = ""
    osmolarity_mosm_l: float | None = None


@dataclass(frozen=True, slots=True)
class _Text:
    """A name's words: as written in the vocabulary's spelling, and those of what runs alone."""

    plain: str
    live: str
    stands: Stands


def read_name(name: str, book: NameBook, *, blood: bool = False) -> NameReading:
    """What a co-infusion's name says; kept, since the same names come again and again.

    blood: filled in as blood, of which "ordered" is not yet running.
    """
    kind = f"co-infusions in {book.catalogue.version}"
    return book.vocabulary.keep(kind, (name, blood), lambda: _read(name, blood, book))


def _read(name: str, blood: bool, book: NameBook) -> NameReading:
    text = _text_of(name, blood, book)
    reading = _of_words(text, book)
    ask = reading.ask or (DOUBTED if is_doubted(text.plain) else "")
    return replace(
        reading, arrangement=arrangement_of(text.plain), stands=text.stands, ask=ask,
        osmolarity_mosm_l=osmolarity_in(text.plain),
    )  # fmt: skip


def _text_of(name: str, blood: bool, book: NameBook) -> _Text:
    plain = plain_names(fold(name), book.vocabulary)
    alone = FREE_OF.sub(" ", without_arrangement(plain))
    hits = book.vocabulary.drugs.hits(plain_words(words_of(alone)))
    blood = blood or any(hit.meaning.data.get("kind") == "blood" for hit in hits)
    clauses = clauses_of(alone, book.vocabulary, blood=blood)
    stands = standing_of(clauses)
    if stands != "runs" or all(clause.stands == "runs" for clause in clauses):
        return _Text(plain, alone, stands)
    live = without_dead(alone, clauses)
    return _Text(live, live, stands)


def _of_words(text: _Text, book: NameBook) -> NameReading:
    flow, bare = _flow_of(text.plain), cut_times(text.live)
    head, diluent, volume_ml = diluted(bare, book)
    words = plain_words(words_of(head))
    hits = named(book.vocabulary.drugs.hits(words))
    if not hits:
        return _as_fluid(text, bare, flow, book)
    meaning = hits[0].meaning
    kind: Kind = meaning.data.get("kind", "drug")
    units = UNITS.search(text.plain) if kind == "blood" else None
    brings, each_litre = _brings(head, [hit.meaning for hit in hits], book)
    own = fluid_itself(meaning.key, bare, book)
    if own.fluid and not own.doses and diluent is None:
        diluent, volume_ml, brings, each_litre = own.fluid, own.volume_ml, None, None
    return NameReading(
        meaning.key, kind, _marks(hits) - free_of(text.plain), diluent, volume_ml,
        float(units[1]) if units else None, "", flow, brings, read_schedule(text.plain),
        None if kind == "nutrition" else each_litre,
        ask=vague_ask(words, hits, book.vocabulary),
    )  # fmt: skip


def _marks(hits: tuple[Hit, ...]) -> frozenset[str]:
    return frozenset(key for hit in hits for key in (hit.meaning.key, *hit.meaning.marks))


def _flow_of(plain: str) -> Flow:
    """Rate, volume and length of a drug's infusion; the time between doses is not its length."""
    flow, once = flow_of_words(plain, None), flow_of_words(cut_times(plain), None)
    is_a_bag = flow.volume_ml is not None and flow.volume_ml >= BAG_FROM_ML
    return flow if is_a_bag and once.duration_h is None else once


def _as_fluid(text: _Text, bare: str, flow: Flow, book: NameBook) -> NameReading:
    """A catalogue fluid named as a co-infusion brings what its label says."""
    reading = carrier(bare, book)
    if reading.fluid is None:
        reading = carrier(cut_rate_words(bare)[0], book)
    if reading.fluid is None:
        return NameReading(flow=flow)
    return NameReading(
        reading.fluid.id, "drug", marks_of(reading.fluid), reading.fluid, reading.volume_ml,
        flow=flow, schedule=read_schedule(text.plain),
    )  # fmt: skip


def _brings(
    head: str, hits: list[Meaning], book: NameBook
) -> tuple[Composition | None, Composition | None]:
    """What stated amounts hold in total and in each litre; None for none, or one not read."""
    if not any("salt" in meaning.data for meaning in hits):
        return None, None
    recipe = recipe_of(head, book.vocabulary)
    concentrate = book.read(head)
    if concentrate.fluid and concentrate.volume_ml:
        return scaled(concentrate.fluid.composition, concentrate.volume_ml / ML_PER_L), None
    total = per_litre = Composition()
    for dose in recipe.doses:
        read = dose_of(dose, book.vocabulary)
        if read.unread:
            return None, None
        if read.per_litre:
            per_litre = added(per_litre, read.added)
        else:
            total = added(total, read.added)
    whole, each = (None if c == Composition() else c for c in (total, per_litre))
    return whole, each
