"""What a comparison's address asks for, read with care: what is wrong is said, the rest works."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType
from typing import Final, Literal
from urllib.parse import urlencode

from starlette.datastructures import QueryParams

from app.catalogue.amounts import PER_LITRE, Basis, in_bag, per_day
from app.catalogue.catalogue import Catalogue
from app.catalogue.fluid import Fluid
from app.web.errors import FieldFault
from app.web.show import count

Show = Literal["litre", "bag", "day"]
SHOWS: Final[tuple[Show, ...]] = ("litre", "bag", "day")
MOST_FLUIDS: Final = 6
# Names looked for in one address; each that is not known is told back.
MOST_ASKED: Final = 20
LONGEST: Final = 80


@dataclass(frozen=True, slots=True)
class Bounds:
    """A number field: its word, unit, and what is accepted."""

    word: str
    unit: str
    low: float
    high: float

    @property
    def accepted(self) -> str:
        """What may be written."""
        return f"a number from {self.low:g} to {self.high:,g}, in {self.unit}"


# Wide enough for a newborn's syringe and a theatre's bag; common practice, no source.
NUMBERS: Final[Mapping[str, Bounds]] = MappingProxyType(
    {
        "bag": Bounds("Bag", "mL", 10, 5000),
        "rate": Bounds("Rate", "mL/h", 0.1, 2000),
        "weight": Bounds("Weight", "kg", 0.3, 400),
    }
)
BAG_ML: Final = 500.0
RATE_ML_H: Final = 100.0


@dataclass(frozen=True, slots=True)
class Asked:
    """A comparison as asked for. typed: number fields as written, so that nothing typed is lost.

    bag_ml and rate_ml_h have a default; weight_kg is None when not given or not accepted.
    """

    fluids: tuple[Fluid, ...] = ()
    show: Show = "litre"
    bag_ml: float = BAG_ML
    rate_ml_h: float = RATE_ML_H
    weight_kg: float | None = None
    patient: str = ""
    differences: bool = False
    find: str = ""
    typed: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    faults: tuple[FieldFault, ...] = ()

    def basis(self, weight_kg: float | None = None) -> Basis:
        """What amounts are counted over; per kg of this weight on a daily basis."""
        if self.show == "bag":
            return in_bag(self.bag_ml)
        return per_day(self.rate_ml_h, weight_kg=weight_kg) if self.show == "day" else PER_LITRE

    def address(self, *, with_patient: bool = True) -> str:
        """The link to this comparison, with nothing in it that goes without saying."""
        pairs = [("fluid", fluid.id) for fluid in self.fluids]
        pairs += [("show", self.show)] if self.show != "litre" else []
        pairs += [(name, text) for name, text in self.typed.items() if text]
        pairs += [("patient", self.patient)] if self.patient and with_patient else []
        pairs += [("differences", "1")] if self.differences else []
        return f"/compare?{urlencode(pairs)}" if pairs else "/compare"

    def at_patients_rate(self, rate_ml_h: float | None) -> "Asked":
        """The same at the rate the patient's fluid runs, unless one was typed."""
        if rate_ml_h is None or self.typed.get("rate"):
            return self
        return replace(self, rate_ml_h=rate_ml_h)

    def without(self, fluid_id: str) -> "Asked":
        """The same with one fluid less."""
        return replace(self, fluids=tuple(f for f in self.fluids if f.id != fluid_id))

    def with_fluid(self, fluid: Fluid) -> "Asked":
        """The same with one fluid more."""
        return replace(self, fluids=(*self.fluids, fluid))


def read_asked(query: QueryParams, catalogue: Catalogue) -> Asked:
    """The comparison that a query string asks for, with a fault for each field not accepted."""
    faults: list[FieldFault] = []
    typed = {name: query.get(name, "").strip()[:LONGEST] for name in NUMBERS}
    numbers = {name: read_number(name, text, NUMBERS[name], faults) for name, text in typed.items()}
    return Asked(
        fluids=_fluids(query.getlist("fluid"), catalogue, faults),
        show=_show(query.get("show", ""), faults),
        bag_ml=numbers["bag"] or BAG_ML,
        rate_ml_h=numbers["rate"] or RATE_ML_H,
        weight_kg=numbers["weight"],
        patient=query.get("patient", "").strip()[:LONGEST],
        differences=query.get("differences", "") not in ("", "0"),
        find=query.get("find", "").strip()[:LONGEST],
        typed=MappingProxyType(typed),
        faults=tuple(faults),
    )


def _fluids(ids: list[str], catalogue: Catalogue, faults: list[FieldFault]) -> tuple[Fluid, ...]:
    found: dict[str, Fluid] = {}
    for fluid_id in [text.strip() for text in ids if text.strip()][:MOST_ASKED]:
        fluid = catalogue.get(fluid_id)
        if fluid is None:
            accepted = "the id of a fluid in the catalogue; search for it by name"
            faults.append(FieldFault("fluid", fluid_id[:LONGEST], accepted))
        else:
            found[fluid.id] = fluid
    if len(found) > MOST_FLUIDS:
        accepted = f"at most {MOST_FLUIDS} fluids; the first {MOST_FLUIDS} are shown"
        faults.append(FieldFault("fluid", count(len(found), "fluid"), accepted))
    return tuple(found.values())[:MOST_FLUIDS]


def _show(text: str, faults: list[FieldFault]) -> Show:
    for show in SHOWS:
        if text == show:
            return show
    if text:
        faults.append(FieldFault("show", text[:LONGEST], ", ".join(SHOWS)))
    return "litre"


def read_number(name: str, text: str, bounds: Bounds, faults: list[FieldFault]) -> float | None:
    """The number, or None when there is none; one that is not accepted is a fault."""
    if not text:
        return None
    try:
        value = float(text.replace(",", "."))
    except ValueError:
        value = math.nan
    if bounds.low <= value <= bounds.high:
        return value
    faults.append(FieldFault(name, text, bounds.accepted))
    return None
