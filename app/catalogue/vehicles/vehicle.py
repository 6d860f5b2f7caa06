"""What one drug, component or electrolyte usually comes in, and what it itself holds."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Final

from app.catalogue.fluid import Fluid
from app.catalogue.source import Source
from app.chemistry.composition import Composition


@dataclass(frozen=True, slots=True)
class Vehicle:
    """How one drug, component or electrolyte usually comes for an adult.

    key: the vocabulary's. dose_g: usual dose, g, None where the amount is always written.
    doses_per_day: how often usually. fluid: the usual carrier, None when it is a ready-made
    solution or the carrier varies. holds: what a litre of a ready-made solution holds. volume_ml:
    of one usual dose, None for an infusion that runs all day at a rate set by effect. flush_ml:
    0.9% sodium chloride to flush the line for one dose. sodium and potassium per gram of the drug
    itself. only_by_vein: it has no other form, so that on a drug list it
    runs by vein. unknown: which of its ions no label settles.
    """

    key: str
    dose_g: float | None
    doses_per_day: float
    fluid: Fluid | None
    holds: Composition
    carrier_varies: bool
    volume_ml: float | None
    volume_range_ml: tuple[float, float] | None
    minutes: float | None
    flush_ml: float
    sodium_mmol_per_g: float
    potassium_mmol_per_g: float
    energy_kcal_ml: float
    runs_all_day: bool
    only_by_vein: bool
    unknown: tuple[str, ...]
    note: str
    sources: tuple[Source, ...]


@dataclass(frozen=True, slots=True)
class Vehicles:
    """Every usual vehicle by the vocabulary's key. flush: the fluid that lines are flushed with."""

    by_key: Mapping[str, Vehicle] = field(default_factory=lambda: MappingProxyType({}))
    flush: Fluid | None = None

    def __iter__(self) -> Iterator[Vehicle]:
        return iter(self.by_key.values())

    def __len__(self) -> int:
        return len(self.by_key)

    def get(self, key: str) -> Vehicle | None:
        """The usual vehicle of a drug, or None."""
        return self.by_key.get(key)


NO_VEHICLES: Final = Vehicles()
