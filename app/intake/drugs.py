"""Drugs, blood components and nutrition by generic name, with the class marks that follow."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final, Literal, cast

from app.catalogue.fluid import ML_PER_L, Fluid
from app.chemistry.composition import Composition
from app.chemistry.mixing import added, scaled
from app.intake.additives import dose_of
from app.intake.fluids import FluidReading, NameBook
from app.intake.rates import DURATION, RATE, VOLUME, Flow, flow_of_words
from app.intake.recipe import recipe_of
from app.intake.request import Reader, Span
from app.intake.vocabulary import Meaning, Vocabulary, fold, plain_words, words_of
from app.patient.order import CoInfusion
from app.patient.snapshot import Words

Kind = Literal["drug", "blood", "nutrition"]
Arrangement = Literal["", "in turn", "separate", "together"]
NOTHING_SAID: Final = Flow()
KINDS: Final = {
    **{kind: kind for kind in ("drug", "blood", "nutrition")},
    **dict.fromkeys(("medication", "medicine", "fluid"), "drug"),
    **dict.fromkeys(("blood component", "blood product", "transfusion"), "blood"),
    **dict.fromkeys(("parenteral nutrition", "feed"), "nutrition"),
}
MINUTES_PER_HOUR: Final = 60.0
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
NO_CALCIUM: Final = re.compile(
    r"\b(?:calcium[- ]free|no (?:added )?calcium|without (?:added )?calcium)\b"
)
IN_TURN: Final = re.compile(
    r"[,;(]?\s*(?:\bone after the other\b|\bin turn\b|\bsequential(?:ly)?\b|\balternat\w+\b"
    r"|\b(?:with|after|and)(?: a| an| the)?(?: (?:saline|ns|0\.9%|line))* flush(?:es|ed)?"
    r"(?: before| after| between| in between| and after)*\b"
    r"|\bflush(?:ed)? (?:before|between|after)\b(?: and after)?)\)?"
)
SEPARATE: Final = re.compile(
    r"[,;(]?\s*(?:\b(?:via|through|on|in|by)\s+)?(?:a |an |its |their )?"
    r"\b(?:own|separate|other|different|second|dedicated|another)"
    r" (?:iv )?(?:line|lumen|cannula|access|site|port|peripheral line|catheter)\b\)?"
)
TOGETHER: Final = re.compile(
    r"[,;(]?\s*(?:\b(?:via|through|at|by|as a|on)\s+)?(?:the |a )?"
    r"\b(?:y[- ]?site|piggy ?back(?:ed)?|same (?:line|lumen|bag|cannula)"
    r"|y connector|run together|running together|co[- ]?infused|simultaneous(?:ly)?)\b\)?"
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
                for hit in hits:
                    for key in (hit.meaning.key, *hit.meaning.marks):
                        found.setdefault(key, text)
    return Words(
        frozenset(found), frozenset(denied - found.keys()), tuple(unread), MappingProxyType(found)
    )


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
    co_infusion = CoInfusion(
        name=name,
        kind=said.kind if said.kind not in (None, "drug") else cast(Kind, kind or "drug"),
        key=said.key,
        contents=said.contents,
        lumen=reader.label("lumen"),
        diluent=book.read(diluent).fluid if diluent else said.diluent,
        volume_ml=reader.number("volume_ml", VOLUME) or said.volume_ml or said.flow.volume_ml,
        duration_min=duration_min,
        units=reader.number("units", UNITS) or said.units,
        arrangement=arrangement_of(arrangement) or said.arrangement,
        rate_ml_h=reader.number("rate_ml_h", RATE) or said.flow.rate_ml_h,
        brings=said.brings,
        osmolarity_mosm_l=osmolarity_in(name),
    )
    reader.label("id")
    reader.ask_unknown()
    return co_infusion


def read_name(name: str, book: NameBook) -> NameReading:
    """What a co-infusion's name says; kept, since the same names come again and again."""
    kind = f"co-infusions in {book.catalogue.version}"
    return book.vocabulary.keep(kind, name, lambda: _read_name(name, book))


def arrangement_of(text: str) -> Arrangement:
    """How the words say that two infusions share a line, "" when they do not."""
    plain = fold(text)
    for said, pattern in (("separate", SEPARATE), ("in turn", IN_TURN), ("together", TOGETHER)):
        if pattern.search(plain):
            return cast(Arrangement, said)
    return ""


def osmolarity_in(text: str) -> float | None:
    """The osmolarity that words state, mOsm/L: 1200 of "TPN 1,200 mOsm/L"; None when none."""
    match = OSMOLARITY.search(text)
    return float(match[1].replace(",", "")) if match else None


def _read_name(name: str, book: NameBook) -> NameReading:
    plain = fold(name)
    flow = flow_of_words(plain, None)
    bare = TOGETHER.sub(" ", IN_TURN.sub(" ", SEPARATE.sub(" ", plain)))
    head, diluent, volume_ml = _diluted(bare, book)
    hits = [hit.meaning for hit in book.vocabulary.drugs.hits(plain_words(words_of(head)))]
    if not hits:
        return _as_fluid(name, bare, flow, book)
    meaning = hits[0]
    kind: Kind = meaning.data.get("kind", "drug")
    marks = frozenset(key for hit in hits for key in (hit.key, *hit.marks))
    if NO_CALCIUM.search(plain):
        marks -= {"calcium"}
    units = BLOOD_UNITS.search(plain) if kind == "blood" else None
    return NameReading(
        meaning.key, kind, marks, diluent, volume_ml, float(units[1]) if units else None,
        arrangement_of(name), flow, _brings(head, hits, book),
    )  # fmt: skip


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
        arrangement_of(name), flow,
    )  # fmt: skip


def _brings(head: str, hits: list[Meaning], book: NameBook) -> Composition | None:
    """What stated amounts hold in total; None when no amount is stated, or one is not read."""
    if not any("salt" in meaning.data for meaning in hits):
        return None
    recipe = recipe_of(head, book.vocabulary)
    concentrate = book.read(head)
    if concentrate.fluid and concentrate.volume_ml:
        return scaled(concentrate.fluid.composition, concentrate.volume_ml / ML_PER_L)
    total = Composition()
    for dose in recipe.doses:
        read = dose_of(dose, book.vocabulary)
        if read.unread or read.per_litre:
            return None
        total = added(total, read.added)
    return None if total == Composition() else total
