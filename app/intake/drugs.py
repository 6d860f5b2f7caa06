"""Drugs, blood components and nutrition by generic name, with the class marks that follow."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Final, Literal, cast

from app.catalogue.fluid import ML_PER_L, Fluid
from app.chemistry.composition import Composition
from app.chemistry.mixing import added, scaled
from app.intake.additives import dose_of
from app.intake.bedside.arrangement import Arrangement, arrangement_of, without_arrangement
from app.intake.fluids import FluidReading, NameBook
from app.intake.orders.contents import stated_contents
from app.intake.orders.schedule import cut_times, read_schedule
from app.intake.rates import DURATION, RATE, VOLUME, Flow, cut_rate_words, flow_of_words
from app.intake.recipe import recipe_of
from app.intake.request import Reader, Span
from app.intake.vocabulary import Hit, Meaning, Vocabulary, fold, plain_words, words_of
from app.patient.order import CoInfusion
from app.patient.schedule import NO_SCHEDULE, Schedule
from app.patient.snapshot import Words

Kind = Literal["drug", "blood", "nutrition"]
NOTHING_SAID: Final = Flow()
# Drugs that are a fluid of the catalogue when their strength is named ("albumin 20%").
A_FLUID_ITSELF: Final = frozenset({"albumin", "sodium_chloride"})
FLUSH: Final = re.compile(
    r"\bflush(?:es|ed)?\b"
    r"|\b(?:for |via )?(?:the )?(?:arterial|pressure|monitoring|transducer|cvp)(?: line)?\b"
)
# "1 L 8-hourly" is one bag after another, "100 mL 8-hourly" a dose at each time (common practice).
BAG_FROM_ML: Final = 500.0
KINDS: Final = {
    **{kind: kind for kind in ("drug", "blood", "nutrition")},
    **dict.fromkeys(("medication", "medicine", "fluid"), "drug"),
    **dict.fromkeys(("blood component", "blood product", "transfusion"), "blood"),
    **dict.fromkeys(("parenteral nutrition", "feed"), "nutrition"),
}
MINUTES_PER_HOUR: Final = 60.0
HOURS_PER_DAY: Final = 24.0
MINUTES: Final = Span(0, 31 * 24 * 60, "min", {"min": 1.0, "h": 60.0, "hr": 60.0}, above=True)
UNITS: Final = Span(0, 100, "units of blood", {"units": 1.0, "unit": 1.0}, above=True)
PARTS: Final = re.compile(r"[;,\n]\s*|\s\+\s|\band\b")
NOT_TAKEN: Final = re.compile(
    r"\b(?:no|not|stopped|held|withheld|discontinued|ceased|allerg\w+|avoid|off|never|paused|omitted"
    r"|previously|hold|suspended|on hold)\b"
)
DENIED: Final = re.compile(r"\b(?:no|not on|not taking|never|nil)\b")
OSMOLARITY: Final = re.compile(r"(\d[\d,]*(?:\.\d+)?)\s*m\s?osm(?:ol|ole|oles)?\b", re.IGNORECASE)
NOTHING: Final = re.compile(
    r"(?:none|nil|no|nil regular|no regular)(?: (?:known|medications?|meds|drugs?))*"
)
FREE_OF: Final = re.compile(
    r"\b(?:(calcium|potassium)[- ]free|(?:no|nil|without) (?:added )?(calcium|potassium))\b"
)
BLOOD_UNITS: Final = re.compile(
    r"(\d+(?:\.\d+)?)\s*(?:x\s*)?(?:units?|u\b|bags?|pools?|packs?|doses?|adult doses?)"
)
DILUTED_IN: Final = re.compile(
    r"\b(?:diluted (?:in|with)|made up (?:in|to|with)|mixed (?:in|with)"
    r"|reconstituted (?:in|with)|in|with)\b"
)
VOLUME_BEFORE: Final = re.compile(r"^\s*(?:to\s+)?\d+(?:\.\d+)?\s*(?:mls?|l)\s*(?:of\s*)?")
# What a catalogue fluid brings beside another infusion, by the ion that makes trouble.
FLUID_MARKS: Final = {
    "calcium": "calcium_mmol_l", "potassium": "potassium_mmol_l", "magnesium": "magnesium_mmol_l",
    "phosphate": "phosphate_mmol_l", "bicarbonate": "bicarbonate_mmol_l", "glucose": "glucose_g_l",
    "lactate": "lactate_mmol_l",
}  # fmt: skip


def read_medications(texts: Iterable[str], vocabulary: Vocabulary) -> Words:
    """The drug list as keys and class marks; a drug stopped or held is not found."""
    key = tuple(texts)
    return vocabulary.keep("medications", key, lambda: _read_medications(key, vocabulary))


def _read_medications(texts: tuple[str, ...], vocabulary: Vocabulary) -> Words:
    found: dict[str, str] = {}
    denied: set[str] = set()
    unread: list[str] = []
    for text in texts:
        for part in filter(None, (p.strip(" .") for p in PARTS.split(fold(text)))):
            hits = tuple(vocabulary.drugs.hits(plain_words(words_of(part))))
            if not hits:
                unread.extend(() if NOTHING.fullmatch(part) else (part,))
            elif NOT_TAKEN.search(part):
                denied.update(hit.meaning.key for hit in hits if DENIED.search(part))
            else:
                for key in _keys_of(part, hits):
                    found.setdefault(key, text)
    return Words(
        frozenset(found), frozenset(denied - found.keys()), tuple(unread), MappingProxyType(found)
    )


def free_of(plain: str) -> set[str]:
    """The ions that folded words deny: "calcium-free"."""
    return {ion for match in FREE_OF.finditer(plain) for ion in match.groups() if ion}


def _keys_of(part: str, hits: tuple[Hit, ...]) -> Iterator[str]:
    """Keys and marks; nutrition written as free of an ion does not bring it."""
    free = free_of(part)
    for hit in hits:
        keys = (hit.meaning.key, *hit.meaning.marks)
        yield from (key for key in keys if key not in free)


@dataclass(frozen=True, slots=True)
class NameReading:
    """What the name of a co-infusion says."""

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


def read_co_infusion(reader: Reader, book: NameBook) -> CoInfusion:
    """One thing that runs beside the fluids. A name not understood is asked about."""
    name = reader.text("name") or ""
    kind = reader.choice("kind", KINDS)
    said = read_name(name, book)
    if name and not said.key:
        reader.ask("name", name, "Which drug, blood component or nutrition is this?")
    duration_h = reader.number("duration_h", DURATION) or said.flow.duration_h
    duration_min = reader.number("duration_min", MINUTES)
    if duration_min is None and duration_h is not None:
        duration_min = duration_h * MINUTES_PER_HOUR
    diluent = reader.text("diluent")
    arrangement = reader.text("arrangement") or ""
    volume_ml = reader.number("volume_ml", VOLUME) or said.volume_ml or said.flow.volume_ml
    co_infusion = CoInfusion(
        name=name,
        kind=said.kind if said.kind not in (None, "drug") else cast(Kind, kind or "drug"),
        key=said.key,
        contents=said.contents,
        lumen=reader.label("lumen"),
        diluent=book.read(diluent).fluid if diluent else said.diluent,
        volume_ml=volume_ml,
        duration_min=duration_min,
        units=reader.number("units", UNITS) or said.units,
        arrangement=arrangement_of(arrangement) or said.arrangement,
        rate_ml_h=reader.number("rate_ml_h", RATE) or said.flow.rate_ml_h,
        brings=stated_contents(name, volume_ml) if said.kind == "nutrition" else said.brings,
        schedule=said.schedule,
        osmolarity_mosm_l=osmolarity_in(name),
    )
    reader.label("id")
    reader.ask_unknown()
    return _with_a_day_of(co_infusion, said.in_each_litre)


def _with_a_day_of(drug: CoInfusion, per_litre: Composition | None) -> CoInfusion:
    """What an amount in each litre comes to: in the volume told, or in a day at the rate told."""
    if per_litre is None or drug.brings is not None:
        return drug
    if drug.volume_ml is not None:
        return replace(drug, brings=scaled(per_litre, drug.volume_ml / ML_PER_L))
    if drug.rate_ml_h is None:
        return drug
    hours = drug.duration_min / MINUTES_PER_HOUR if drug.duration_min else HOURS_PER_DAY
    volume_ml = drug.rate_ml_h * hours
    return replace(
        drug, volume_ml=volume_ml, duration_min=hours * MINUTES_PER_HOUR,
        brings=scaled(per_litre, volume_ml / ML_PER_L),
    )  # fmt: skip


def read_name(name: str, book: NameBook) -> NameReading:
    """What a co-infusion's name says; kept, since the same names come again and again."""
    kind = f"co-infusions in {book.catalogue.version}"
    return book.vocabulary.keep(kind, name, lambda: _read_name(name, book))


def osmolarity_in(text: str) -> float | None:
    """The osmolarity that words state, mOsm/L: 1200 of "TPN 1,200 mOsm/L"; None when none."""
    match = OSMOLARITY.search(text)
    return float(match[1].replace(",", "")) if match else None


def _read_name(name: str, book: NameBook) -> NameReading:
    plain = fold(name)
    flow = _flow_of(plain)
    bare = cut_times(FREE_OF.sub(" ", without_arrangement(plain)))
    head, diluent, volume_ml = _diluted(bare, book)
    hits = [hit.meaning for hit in book.vocabulary.drugs.hits(plain_words(words_of(head)))]
    if not hits:
        return _as_fluid(name, bare, flow, book)
    meaning = hits[0]
    kind: Kind = meaning.data.get("kind", "drug")
    marks = frozenset(key for hit in hits for key in (hit.key, *hit.marks)) - free_of(plain)
    units = BLOOD_UNITS.search(plain) if kind == "blood" else None
    brings, each_litre = _brings(head, hits, book)
    own = _fluid_itself(meaning.key, bare, book)
    if own.fluid and not own.doses and diluent is None:
        diluent, volume_ml, brings, each_litre = own.fluid, own.volume_ml, None, None
    return NameReading(
        meaning.key, kind, marks, diluent, volume_ml, float(units[1]) if units else None,
        arrangement_of(name), flow, brings, read_schedule(plain),
        None if kind == "nutrition" else each_litre,
    )  # fmt: skip


def _fluid_itself(key: str, bare: str, book: NameBook) -> FluidReading:
    """What a drug is that the catalogue lists as a fluid: "flush 0.9% sodium chloride 10 mL"."""
    if key not in A_FLUID_ITSELF:
        return FluidReading()
    return _carrier(cut_rate_words(FLUSH.sub(" ", bare).strip())[0], book)


def _flow_of(plain: str) -> Flow:
    """Rate, volume and length of a drug's infusion; the time between doses is not its length."""
    flow, once = flow_of_words(plain, None), flow_of_words(cut_times(plain), None)
    is_a_bag = flow.volume_ml is not None and flow.volume_ml >= BAG_FROM_ML
    return flow if is_a_bag and once.duration_h is None else once


def _diluted(text: str, book: NameBook) -> tuple[str, Fluid | None, float | None]:
    """A name parted at "in": the drug, and the fluid it is mixed in when that is one."""
    for match in DILUTED_IN.finditer(text):
        reading = _carrier(text[match.end() :], book)
        if reading.fluid and not reading.doses:
            return text[: match.start()], reading.fluid, reading.volume_ml
        volume = VOLUME_BEFORE.match(text[match.end() :])
        if volume and reading.candidates:
            return text[: match.start()], None, flow_of_words(volume[0], None).volume_ml
    return text, None, None


def _carrier(text: str, book: NameBook) -> FluidReading:
    head = re.split(r"\s(?:over|at|@)\s|[,;]", text.strip())[0]
    return book.read(head)


def _as_fluid(name: str, bare: str, flow: Flow, book: NameBook) -> NameReading:
    """A catalogue fluid named as a co-infusion brings what its label says."""
    reading = _carrier(bare, book)
    if reading.fluid is None:
        return NameReading(arrangement=arrangement_of(name), flow=flow)
    composition = reading.fluid.composition
    marks = frozenset(mark for mark, name in FLUID_MARKS.items() if getattr(composition, name) > 0)
    return NameReading(
        reading.fluid.id, "drug", marks, reading.fluid, reading.volume_ml, None,
        arrangement_of(name), flow, None, read_schedule(name),
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
