"""What stands beside the form while it is written: checks, slips, and what would change."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Final

from app.catalogue.changes.change import Document
from app.catalogue.changes.differences import Difference, differences
from app.catalogue.check import Fault, check_fluid
from app.catalogue.entry import EntryError, fluid_from
from app.catalogue.fluid import Fluid
from app.catalogue.labels.compared import held_against
from app.catalogue.labels.held import Held
from app.catalogue.labels.reading import read_label
from app.catalogue.labels.slips import slips_of
from app.chemistry.errors import UnitError
from app.chemistry.substances import ANIONS, CATIONS, Substance
from app.chemistry.units import meq_from_mmol
from app.web.fluids.card import Checked, checked
from app.web.fluids.edit.fields import EXPLAINABLE, ION_FIELDS, said
from app.web.fluids.edit.reading import Read
from app.web.show import capital, number

PLACES: Final = 2
# The fields that hold figures of a label.
FIGURES: Final = ("composition", "other.", "osmolarity", "energy", "ph.")


@dataclass(frozen=True, slots=True)
class Doubt:
    """What a check found. explain: the field in which a reason lets it stand, or none."""

    text: str
    explain: str


@dataclass(frozen=True, slots=True)
class NotAccepted:
    """One field that is not accepted, as a link to it and a sentence."""

    field: str
    text: str


@dataclass(frozen=True, slots=True)
class Side:
    """Cations or anions, summed: "sodium 130 + potassium 4 + calcium 2.7 = 136.7 mEq/L"."""

    name: str
    working: str


@dataclass(frozen=True, slots=True)
class Live:
    """Everything beside the form. messages: by field; meq: by ion's field.

    sources_stay: figures are changed, their sources are not. is_new: nothing is in force to compare
    with. held: the entry as typed against the label that was pasted, None without one.
    """

    headline: str
    not_accepted: tuple[NotAccepted, ...]
    doubts: tuple[Doubt, ...]
    explained: tuple[str, ...]
    sides: tuple[Side, ...]
    checks: tuple[Checked, ...]
    slips: tuple[str, ...]
    differences: tuple[Difference, ...]
    sources_stay: bool
    is_new: bool
    held: Held | None
    messages: Mapping[str, str]
    meq: Mapping[str, str]

    def before_anything(self) -> "Live":
        """The same while nothing is written: nobody is told that everything is missing."""
        told = "Nothing is written yet"
        return replace(self, headline=told, not_accepted=(), doubts=(), messages={})


def live_of(read: Read, in_force: Document | None, label: str = "") -> Live:
    """What an entry as typed comes to, beside the one in force and the label it was begun from."""
    before = _fluid(in_force)
    not_accepted = tuple(_not_accepted(name, fault) for name, fault in read.faults.items())
    doubts = tuple(_doubts(read))
    apart = _apart(in_force, read)
    is_new = in_force is None
    return Live(
        headline=_headline(len(not_accepted), len(doubts), len(apart), is_new=is_new),
        not_accepted=not_accepted,
        doubts=doubts,
        explained=tuple(f"{capital(what)}: {why}" for what, why in read.fluid.explained),
        sides=tuple(_sides(read.fluid)),
        checks=checked(read.fluid),
        slips=tuple(
            capital(str(slip))
            for slip in slips_of(read.fluid.composition, before.composition if before else None)
        ),
        differences=apart,
        sources_stay=_sources_stay(apart),
        is_new=is_new,
        held=held_against(read_label(label), read.fluid) if label.strip() else None,
        messages={name: message_of(fault) for name, fault in read.faults.items()},
        meq={name: _meq(ion, read.fluid) for name, ion in ION_FIELDS.items()},
    )


def _apart(in_force: Document | None, read: Read) -> tuple[Difference, ...]:
    """Where the entry differs from what is in force, but for what could not be read."""
    if in_force is None:
        return ()
    told = differences(in_force, read.document)
    return tuple(one for one in told if one.field not in read.faults)


def _sources_stay(apart: tuple[Difference, ...]) -> bool:
    """Whether figures are changed, and none of the sources they are said to be from."""
    figures = any(one.field.startswith(FIGURES) for one in apart)
    return figures and not any(one.field.startswith("source.") for one in apart)


def message_of(fault: EntryError) -> str:
    """What is said beside a field: the value, and what is accepted."""
    was = f"“{fault.value}” is not accepted." if fault.value not in ("", None) else "Nothing here."
    return f"{was} Accepted: {fault.accepted}."


def _fluid(document: Document | None) -> Fluid | None:
    return None if document is None else fluid_from(document, file_id=str(document["id"]))


def _not_accepted(name: str, fault: EntryError) -> NotAccepted:
    return NotAccepted(name, f"{said(name)}: {message_of(fault)}")


def _doubts(read: Read) -> Iterator[Doubt]:
    """What the checks find, but for what is said beside a field already."""
    for fault in check_fluid(read.fluid):
        yield Doubt(doubt_text(fault), _explain(fault.field))


def doubt_text(fault: Fault) -> str:
    """A check's finding as a sentence: "Charge: 137 mEq/L of cations against 140 of anions"."""
    what = fault.field.removeprefix("composition.").replace("_", " ")
    return f"{what if what.startswith('ph') else capital(what)}: {fault.text}."


def _explain(what: str) -> str:
    return f"explained.{what}" if what in EXPLAINABLE else ""


def _headline(not_accepted: int, doubts: int, apart: int, *, is_new: bool) -> str:
    told = []
    if not_accepted:
        told.append(f"{not_accepted} field{'s' * (not_accepted != 1)} not accepted")
    if doubts:
        told.append(f"{doubts} doubt{'s' * (doubts != 1)}")
    if told:
        return f"Not ready: {' and '.join(told)}"
    if is_new:
        return "A new fluid; no check finds a fault"
    if not apart:
        return "Nothing differs from what is in force"
    return f"{apart} field{'s differ' if apart != 1 else ' differs'}; no check finds a fault"


def _sides(fluid: Fluid) -> Iterator[Side]:
    composition = fluid.composition
    yield Side("Cations", _sum(CATIONS, fluid, composition.cations_meq_l))
    if composition.anions_meq_l is None:
        yield Side("Anions", "not summed: no chloride on the label")
        return
    yield Side("Anions", _sum(ANIONS, fluid, composition.anions_meq_l))


def _sum(ions: tuple[Substance, ...], fluid: Fluid, total: float) -> str:
    terms = []
    for ion in ions:
        amount = fluid.composition.ion_mmol_l(ion.key)
        if amount:
            charge = (
                number(amount * abs(ion.charge), PLACES) if ion.charge else "by its mean charge"
            )
            terms.append(f"{ion.name} {charge}")
    colloid = fluid.composition.colloid_charge_meq_l
    if colloid and ions is ANIONS:
        terms.append(f"colloid {number(-colloid, PLACES)}")
    return f"{' + '.join(terms) or 'none'} = {number(total, PLACES)} mEq/L"


def _meq(ion: Substance, fluid: Fluid) -> str:
    """An ion in mEq/L, where that is another number or the same said in the other unit."""
    amount = fluid.composition.ion_mmol_l(ion.key)
    if not amount:
        return ""
    try:
        return f"{number(meq_from_mmol(ion.key, amount), PLACES)} mEq/L"
    except UnitError:
        return "no fixed mEq"
