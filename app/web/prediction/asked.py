"""What a what-if's address asks for: one or two bags, how fast, how long to look, and for whom."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import Final
from urllib.parse import urlencode

from starlette.datastructures import QueryParams

from app.catalogue.catalogue import Catalogue
from app.catalogue.fluid import ML_PER_L, Fluid
from app.chemistry.composition import Composition
from app.chemistry.mixing import added, scaled
from app.chemistry.salts import salt_amounts
from app.patient.order import Order
from app.physiology.course.loads import Load
from app.web.comparison.asked import LONGEST, read_number
from app.web.errors import FieldFault
from app.web.prediction.fields import (
    CHOICES,
    FIELDS,
    HORIZONS_H,
    NAMES,
    RESULT,
    RESULT_NUMBERS,
    SEXES,
    TICKS,
    USUAL_HORIZON,
    Sex,
)
from app.web.show import number

MINUTES_PER_HOUR: Final = 60.0
# Minutes and a rate that were both written may differ by so much: people round.
AGREE_WITHIN: Final = 0.02
LONGEST_SAID: Final = 1000
TWICE: Final = 2.0
CONDITION: Final = re.compile(r"[a-z_]{3,40}")


@dataclass(frozen=True, slots=True)
class Bag:
    """A fluid that is tried, with potassium chloride put into the whole volume, mmol."""

    mark: str
    fluid: Fluid
    potassium_mmol: float

    def mix(self, volume_ml: float) -> Composition:
        """What a litre of the bag holds; the salt's own volume is not counted."""
        if not self.potassium_mmol:
            return self.fluid.composition
        litres = volume_ml / ML_PER_L
        salt = salt_amounts("potassium_chloride", self.potassium_mmol)
        return scaled(added(scaled(self.fluid.composition, litres), salt), 1 / litres)

    def load(self, volume_ml: float, minutes: float, starts_min: float = 0.0) -> Load:
        """The bag as it runs in, from now or from so many minutes on."""
        return Load(self.mix(volume_ml), volume_ml / ML_PER_L, starts_min, minutes)

    @property
    def called(self) -> str:
        """The bag in words."""
        salt = f" + potassium chloride {number(self.potassium_mmol)} mmol"
        return f"{self.fluid.name}{salt if self.potassium_mmol else ''}"


@dataclass(frozen=True, slots=True)
class Then:
    """What follows when A, or B, is in."""

    bag: Bag
    volume_ml: float
    minutes: float

    def load(self, starts_min: float) -> Load:
        """It as it runs in, from so many minutes on."""
        return self.bag.load(self.volume_ml, self.minutes, starts_min)


@dataclass(frozen=True, slots=True)
class Asked:
    """A what-if as asked for. typed: every field as written, so that nothing typed is lost.

    volume_ml and minutes are None until both can be told. values: accepted numbers by field.
    chosen: accepted choices by field, what is left as usual without. conditions: those ticked.
    """

    bags: tuple[Bag, ...] = ()
    volume_ml: float | None = None
    minutes: float | None = None
    horizon_h: float = float(USUAL_HORIZON)
    patient: str = ""
    sex: Sex | None = None
    values: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    typed: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    faults: tuple[FieldFault, ...] = ()
    chosen: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    conditions: frozenset[str] = frozenset()
    then: Then | None = None

    def is_chosen(self, name: str, choice: str) -> bool:
        """True where a choice was made so; what is left as usual is not chosen."""
        return self.chosen.get(name) == choice

    @property
    def rate_ml_h(self) -> float | None:
        """How fast it runs, mL/h."""
        if self.volume_ml is None or self.minutes is None:
            return None
        return self.volume_ml / self.minutes * MINUTES_PER_HOUR

    @property
    def results(self) -> Mapping[str, float]:
        """Results as typed, by the project's names."""
        return {n: self.values[RESULT + n] for n in RESULT_NUMBERS if RESULT + n in self.values}

    def insulin_load(self) -> Load | None:
        """Soluble insulin as typed, for all the time looked ahead; None for none."""
        units_h, minutes = self.values.get("insulin"), self.horizon_h * MINUTES_PER_HOUR
        if not units_h:
            return None
        return Load(Composition(), 0.0, 0.0, minutes, insulin_units=units_h * self.horizon_h)

    def with_fault(self, fault: FieldFault) -> "Asked":
        """The same with one thing more that is not accepted."""
        return replace(self, faults=(*self.faults, fault))


def read_asked(query: QueryParams, catalogue: Catalogue) -> Asked:
    """The what-if of a query string, with a fault for each field not accepted."""
    faults: list[FieldFault] = []
    typed = {name: query.get(name, "").strip()[:LONGEST] for name in NAMES}
    typed["said"] = query.get("said", "").strip()[:LONGEST_SAID]
    found = {n: read_number(b.word, typed[n], b, faults) for n, b in FIELDS.items()}
    values = {name: value for name, value in found.items() if value is not None}
    volume_ml, minutes = _pace(values, faults)
    chosen = {n: _one_of(w, typed[n], among, faults) for n, (w, among) in CHOICES.items()}
    return Asked(
        bags=_bags(typed, values, catalogue, faults),
        volume_ml=volume_ml,
        minutes=minutes,
        horizon_h=_horizon_h(chosen["horizon"], minutes),
        patient=typed["patient"],
        sex=next((one for one in SEXES if one == chosen["sex"]), None),
        values=MappingProxyType(values),
        typed=MappingProxyType(typed),
        then=_then(typed, values, catalogue, faults),
        faults=tuple(faults),
        chosen=MappingProxyType({name: choice for name, choice in chosen.items() if choice}),
        conditions=_conditions(typed),
    )


def _conditions(typed: Mapping[str, str]) -> frozenset[str]:
    """Those ticked, and those that an order page found in the words typed there."""
    ticked = {c for tick in TICKS if typed[tick.name] for c in tick.conditions}
    return frozenset(ticked | set(CONDITION.findall(typed["said"])))


def _horizon_h(chosen: str, minutes: float | None) -> float:
    """How far to look: as chosen; else the first that is twice as long as the bag runs."""
    if chosen:
        return float(chosen)
    return float(USUAL_HORIZON if minutes is None else look_h(minutes / MINUTES_PER_HOUR))


def look_h(hours: float) -> int:
    """How far to look ahead at a bag that runs so many hours."""
    return next((h for h in map(int, HORIZONS_H) if TWICE * hours <= h), int(USUAL_HORIZON))


def _bags(
    typed: Mapping[str, str],
    values: Mapping[str, float],
    catalogue: Catalogue,
    faults: list[FieldFault],
) -> tuple[Bag, ...]:
    bags = []
    for mark, name, salt in (("A", "fluid", "potassium"), ("B", "fluid_b", "potassium_b")):
        fluid = _fluid(f"Fluid {mark}", typed[name], catalogue, faults)
        if fluid is not None:
            bags.append(Bag(mark, fluid, values.get(salt, 0.0)))
    return tuple(bags)


def _fluid(word: str, text: str, catalogue: Catalogue, faults: list[FieldFault]) -> Fluid | None:
    fluid = catalogue.get(text)
    if text and (fluid is None or fluid.never_hung):
        faults.append(FieldFault(word, text, "a fluid of the list"))
        return None
    return fluid


def _then(
    typed: Mapping[str, str],
    values: Mapping[str, float],
    catalogue: Catalogue,
    faults: list[FieldFault],
) -> Then | None:
    """What follows, once it is told whole; a part of it alone is a fault, lest it be overlooked."""
    fluid = _fluid("Then", typed["fluid_then"], catalogue, faults)
    volume, minutes = values.get("volume_then"), values.get("minutes_then")
    if fluid is not None and volume and minutes:
        return Then(Bag("", fluid, values.get("potassium_then", 0.0)), volume, minutes)
    told = [n for n in ("fluid_then", "volume_then", "minutes_then") if typed[n]]
    if told and not faults:
        accepted = "a fluid, a volume and minutes, or none of the three"
        faults.append(FieldFault("Then", typed[told[0]], accepted))
    return None


def _one_of(word: str, text: str, choices: tuple[str, ...], faults: list[FieldFault]) -> str:
    if text and text not in choices:
        faults.append(FieldFault(word, text, ", ".join(choices)))
        return ""
    return text


def _pace(
    values: Mapping[str, float], faults: list[FieldFault]
) -> tuple[float | None, float | None]:
    """Volume and minutes, the third worked out from the other two; all three must agree."""
    volume, minutes, rate = (values.get(name) for name in ("volume", "minutes", "rate"))
    if volume is None and minutes is not None and rate is not None:
        return rate * minutes / MINUTES_PER_HOUR, minutes
    if volume is None or rate is None:
        return volume, minutes
    takes = volume / rate * MINUTES_PER_HOUR
    if minutes is not None and abs(takes - minutes) > AGREE_WITHIN * takes:
        accepted = f"minutes or a rate; at that rate it takes {number(takes, 0)} minutes"
        faults.append(FieldFault("Over", f"{number(minutes, 0)} minutes", accepted))
    return volume, takes


def order_address(patient: str, order: Order) -> str:
    """The what-if of an order; empty when it holds what this page cannot put into a bag."""
    if order.fluid is None or order.fluid.never_hung or order.candidates:
        return ""
    salt_mmol = potassium_chloride_mmol(order)
    if salt_mmol is None or order.volume_ml is None or order.rate_ml_h is None:
        return ""
    pairs = [
        ("patient", patient), ("fluid", order.fluid.id), ("volume", f"{order.volume_ml:g}"),
        ("rate", f"{order.rate_ml_h:g}"), ("potassium", f"{salt_mmol:g}" if salt_mmol else ""),
        ("instead", order.id if patient else ""),
    ]  # fmt: skip
    return f"/predict?{urlencode([(name, text) for name, text in pairs if text])}"


def tried_address(patient: str, fluids: Sequence[Fluid], volume_ml: float, rate_ml_h: float) -> str:
    """The what-if of the first two fluids of a comparison; empty for what is never hung."""
    hung = [fluid.id for fluid in fluids if not fluid.never_hung]
    pairs = [("patient", patient), *zip(("fluid", "fluid_b"), hung, strict=False)]
    pairs += [("volume", f"{volume_ml:g}"), ("rate", f"{rate_ml_h:g}")]
    return f"/predict?{urlencode([(n, text) for n, text in pairs if text])}" if hung else ""


def potassium_chloride_mmol(order: Order) -> float | None:
    """Potassium chloride in the bag, mmol; None when anything else was added to it."""
    total = 0.0
    for dose in order.additives:
        litres = (order.volume_ml or 0.0) / ML_PER_L if dose.per_litre else 1.0
        mmol = dose.added.potassium_mmol_l
        if dose.unread or dose.added != salt_amounts("potassium_chloride", mmol):
            return None
        total += mmol * litres
    return total
