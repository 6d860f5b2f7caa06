"""All fluids the unit knows, found by id."""

import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from app.catalogue.fluid import Fluid


@dataclass(frozen=True, slots=True)
class Catalogue:
    """The fluids in force, in catalogue order, with a version made from their content."""

    fluids: tuple[Fluid, ...]
    _by_id: Mapping[str, Fluid] = field(init=False, repr=False, compare=False)
    version: str = field(init=False, compare=False)

    def __post_init__(self) -> None:
        by_id = {fluid.reference_id: fluid for fluid in self.fluids if fluid.reference_id}
        by_id.update({fluid.id: fluid for fluid in self.fluids})
        object.__setattr__(self, "_by_id", by_id)
        digest = hashlib.sha256(repr(self.fluids).encode()).hexdigest()
        object.__setattr__(self, "version", digest[:12])

    def __hash__(self) -> int:
        """By version, which names the content; hashing every fluid anew would be slow."""
        return hash(self.version)

    def __iter__(self) -> Iterator[Fluid]:
        return iter(self.fluids)

    def __len__(self) -> int:
        return len(self.fluids)

    def get(self, fluid_id: str) -> Fluid | None:
        """The fluid with this id (or facts-table id), or None."""
        return self._by_id.get(fluid_id)
