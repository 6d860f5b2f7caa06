"""What runs beside the fluids: drugs, blood components and nutrition by generic name."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final, cast

from app.catalogue.fluid import ML_PER_L
from app.chemistry.composition import Composition
from app.chemistry.mixing import scaled
from app.intake.bedside.arrangement import arranged_by_orders, arrangement_of
from app.intake.fluids import NameBook
from app.intake.medicines.beside_name import Kind, NameReading, read_name
from app.intake.medicines.clauses import clauses_of
from app.intake.medicines.drug_list import NOTHING, also_taken
from app.intake.medicines.names import named, plain_names
from app.intake.medicines.nutrition import free_of
from app.intake.medicines.place import placed
from app.intake.orders.contents import stated_contents
from app.intake.rates import DURATION, RATE, VOLUME
from app.intake.request import Problems, Reader, Span
from app.intake.vocabulary import Vocabulary, fold
from app.patient.access import Lumen
from app.patient.order import CoInfusion, Order
from app.patient.snapshot import Snapshot

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
WHICH: Final = "Which drug, blood component or nutrition is this?"
WHICH_NUTRITION: Final = "Is this parenteral nutrition, and what does it hold?"
# Nutrition holds these unless it is written that it does not.
NUTRITION_HOLDS: Final = frozenset({"calcium", "glucose"})
# Part of nutrition though no nutrition by themselves.
PARTS_OF_NUTRITION: Final = ("glucose", "dextrose", "sodium_chloride", "amino_acids")
IN_NUTRITION: Final = {
    "potassium": "potassium_mmol_l", "phosphate": "phosphate_mmol_l",
    "magnesium": "magnesium_mmol_l", "calcium": "calcium_mmol_l",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Beside:
    """What is written beside the fluids, running and not, and the orders on their lines."""

    running: tuple[CoInfusion, ...]
    set_aside: tuple[CoInfusion, ...]
    orders: tuple[Order, ...]


def read_beside(
    readers: Iterable[Reader], orders: Sequence[Order], access: Sequence[Lumen], book: NameBook,
    problems: Problems,
) -> Beside:  # fmt: skip
    """Everything beside the fluids, each on the lumen that its words mean."""
    listed = tuple(other for reader in readers for other in read_co_infusions(reader, book))
    running = [other for other in listed if other.stands == "runs"]
    on_lines, told = placed(running, orders, access, book, problems)
    return Beside(
        tuple(arranged_by_orders(on_lines, told)),
        tuple(other for other in listed if other.stands != "runs"),
        told,
    )


def read_co_infusions(reader: Reader, book: NameBook) -> tuple[CoInfusion, ...]:
    """What one entry names: as a rule one thing, several where each has a dose of its own."""
    name = reader.text("name") or ""
    parts = book.vocabulary.keep("parts of names", name, lambda: _parts_of(name, book))
    if parts is None:
        return ()
    whole = read_co_infusion(reader, book)
    if not parts or whole.stands != "runs":
        return (whole,)
    return tuple(_part(whole, read_name(part, book)) for part in parts)


def _parts_of(name: str, book: NameBook) -> tuple[str, ...] | None:
    """The names of drugs joined by "and", each with its dose; none where they are one mixture.

    None where the name says that nothing runs.
    """
    if NOTHING.fullmatch(fold(name).strip(" .")):
        return None
    plain = plain_names(fold(name), book.vocabulary)
    clauses = [c for c in clauses_of(plain, book.vocabulary) if c.hits and c.stands == "runs"]
    keys = [{hit.meaning.key for hit in named(c.hits)} for c in clauses]
    is_salt = any("salt" in hit.meaning.data for c in clauses for hit in c.hits)
    dosed = all(re.search(r"\d", clause.text) for clause in clauses)
    apart = len(clauses) > 1 and all(a.isdisjoint(b) for a, b in pairwise(keys))
    return tuple(c.text for c in clauses) if apart and dosed and not is_salt else ()


def _part(whole: CoInfusion, said: NameReading) -> CoInfusion:
    hours = said.flow.duration_h
    return replace(
        whole, kind=said.kind or whole.kind, key=said.key, contents=said.contents,
        diluent=said.diluent, volume_ml=said.volume_ml or said.flow.volume_ml,
        rate_ml_h=said.flow.rate_ml_h, units=said.units, schedule=said.schedule, ask=said.ask,
        duration_min=hours * MINUTES_PER_HOUR if hours else None, brings=said.brings,
    )  # fmt: skip


def read_co_infusion(reader: Reader, book: NameBook) -> CoInfusion:
    """One thing written beside the fluids. A name not understood is asked about."""
    name = reader.text("name") or ""
    kind = reader.choice("kind", KINDS)
    said = read_name(name, book, blood=kind == "blood")
    duration_h = reader.number("duration_h", DURATION) or said.flow.duration_h
    duration_min = reader.number("duration_min", MINUTES)
    if duration_min is None and duration_h is not None:
        duration_min = duration_h * MINUTES_PER_HOUR
    diluent = reader.text("diluent")
    arrangement = reader.text("arrangement")
    co_infusion = CoInfusion(
        name=name,
        kind=_kind(said, kind),
        key=said.key,
        contents=said.contents,
        lumen=reader.label("lumen"),
        diluent=book.read(diluent).fluid if diluent else said.diluent,
        volume_ml=reader.number("volume_ml", VOLUME) or said.volume_ml or said.flow.volume_ml,
        duration_min=duration_min,
        units=reader.number("units", UNITS) or said.units,
        arrangement=(arrangement and arrangement_of(arrangement)) or said.arrangement,
        rate_ml_h=reader.number("rate_ml_h", RATE) or said.flow.rate_ml_h,
        brings=said.brings,
        schedule=said.schedule,
        osmolarity_mosm_l=said.osmolarity_mosm_l,
        stands=said.stands,
        ask=_ask(said, kind) if name else "",
    )
    reader.label("id")
    if co_infusion.ask and co_infusion.stands == "runs":
        reader.ask("name", name, co_infusion.ask)
    reader.ask_unknown()
    if co_infusion.kind == "nutrition":
        return _as_nutrition(co_infusion)
    return _with_a_day_of(co_infusion, said.in_each_litre)


def _kind(said: NameReading, filled_in: str | None) -> Kind:
    """The kind the name has, whatever is filled in; what may be a part of nutrition is as told."""
    if said.kind is None or (filled_in == "nutrition" and said.key in PARTS_OF_NUTRITION):
        return cast(Kind, filled_in or "drug")
    if said.kind == "drug" and said.diluent is not None and said.key == said.diluent.id:
        return cast(Kind, filled_in or "drug")
    return said.kind


def _ask(said: NameReading, kind: str | None) -> str:
    if said.ask or said.key:
        return said.ask
    return WHICH_NUTRITION if kind == "nutrition" else WHICH


def _as_nutrition(bag: CoInfusion) -> CoInfusion:
    """Nutrition with what its words say it holds; one of no known name may hold calcium.

    Amounts in each litre of nutrition with a rate alone are those of a day.
    """
    hours = (bag.duration_min or 0) / MINUTES_PER_HOUR or HOURS_PER_DAY
    if bag.rate_ml_h is None and bag.volume_ml and bag.duration_min:
        bag = replace(bag, rate_ml_h=bag.volume_ml / hours)
    marks = bag.contents or (frozenset() if bag.key else NUTRITION_HOLDS)
    marks -= free_of(fold(bag.name))
    volume_ml = bag.volume_ml or (bag.rate_ml_h * hours if bag.rate_ml_h else None)
    brings = stated_contents(bag.name, volume_ml)
    if brings is None:
        return replace(bag, contents=marks)
    marks |= {mark for mark, ion in IN_NUTRITION.items() if getattr(brings, ion) > 0}
    minutes = bag.duration_min or (hours * MINUTES_PER_HOUR if bag.rate_ml_h else None)
    return replace(bag, brings=brings, contents=marks, volume_ml=volume_ml, duration_min=minutes)


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


def with_taken_elsewhere(
    patient: Snapshot, set_aside: Iterable[CoInfusion], vocabulary: Vocabulary
) -> Snapshot:
    """The patient with what is written beside the fluids and given by mouth, muscle or skin."""
    names = [other.name for other in set_aside if other.stands == "elsewhere"]
    if not names:
        return patient
    return replace(patient, medications=also_taken(patient.medications, names, vocabulary))
