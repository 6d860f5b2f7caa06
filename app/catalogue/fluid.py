"""A fluid as its label has it."""

from dataclasses import dataclass
from typing import Final, Literal

from app.catalogue.source import Source
from app.chemistry.composition import Composition

FluidKind = Literal["crystalloid", "colloid", "osmotic", "concentrate"]

HYPOTONIC_BELOW_MOSM_L: Final = 260.0
HYPERTONIC_ABOVE_MOSM_L: Final = 320.0
ML_PER_L: Final = 1000.0


@dataclass(frozen=True, slots=True)
class PhRange:
    """Labelled pH: low and high limits and the typical value, each None where not labelled."""

    low: float | None = None
    typical: float | None = None
    high: float | None = None


@dataclass(frozen=True, slots=True)
class Fluid:
    """One catalogue entry.

    variant_of: the bare name it shares with others ("lactated Ringer's"); a bare name that fits
    several entries is asked about. never_hung: why it is never hung as it is, empty when it may
    be. explained: why label and calculation may differ, by field ("osmolarity", "charge").
    reference_id: the row of the facts table it was made from, kept as a second key.
    """

    id: str
    name: str
    kind: FluidKind
    composition: Composition
    osmolarity_labelled_mosm_l: float | None
    ph: PhRange
    energy_kcal_l: float | None
    pack_sizes_ml: tuple[int, ...]
    sources: tuple[Source, ...]
    search_words: tuple[str, ...] = ()
    variant_of: str = ""
    never_hung: str = ""
    note: str = ""
    explained: tuple[tuple[str, str], ...] = ()
    reference_id: str = ""

    @property
    def osmolarity_mosm_l(self) -> float | None:
        """Osmolarity as labelled, or else as calculated, mOsm/L; None when neither is known."""
        labelled = self.osmolarity_labelled_mosm_l
        return self.composition.osmolarity_mosm_l if labelled is None else labelled

    @property
    def tonicity_class(self) -> Literal["hypotonic", "isotonic", "hypertonic"] | None:
        """Class by tonicity, never by the bag's osmolarity (common practice, no source)."""
        tonicity = self.composition.tonicity_mosm_l
        if tonicity is None:
            return None
        if tonicity < HYPOTONIC_BELOW_MOSM_L:
            return "hypotonic"
        return "hypertonic" if tonicity > HYPERTONIC_ABOVE_MOSM_L else "isotonic"

    @property
    def is_buffered(self) -> bool:
        """True for a balanced crystalloid: an organic buffer, and chloride below 0.9% saline's."""
        c = self.composition
        buffer = c.lactate_mmol_l + c.acetate_mmol_l + c.gluconate_mmol_l + c.malate_mmol_l
        return self.kind == "crystalloid" and buffer > 0 and c.sodium_mmol_l > 0

    def sources_of(self, field: str) -> tuple[Source, ...]:
        """The sources that cover a field ("composition.sodium", "ph.low", "energy").

        A source that names a whole ("composition") covers its parts; one that names nothing
        covers all. A source for the part itself goes before one for the whole.
        """
        exact = tuple(s for s in self.sources if field in s.covers)
        whole = field.partition(".")[0]
        wider = (s for s in self.sources if not s.covers or whole in s.covers)
        return (*exact, *(s for s in wider if s not in exact))

    def is_seen(self, field: str) -> bool:
        """True when the text that vouches for a figure was seen, not remembered."""
        return any(source.seen for source in self.sources_of(field)[:1])
