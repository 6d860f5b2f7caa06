"""A catalogue file's content (already parsed TOML) turned into a Fluid, told field by field."""

from collections.abc import Mapping
from typing import Any, Final, get_args

from app.catalogue.fluid import Fluid, FluidKind, PhRange
from app.catalogue.source import Source
from app.chemistry.composition import Composition
from app.chemistry.substances import IONS

ION_KEYS: Final = tuple(ion.key for ion in IONS)
MASS_KEYS: Final = ("glucose", "albumin", "gelatin", "starch", "mannitol")
BASES: Final = ("anhydrous", "monohydrate")
TOP_KEYS: Final = frozenset(
    {
        *("id", "name", "kind", "variant_of", "reference_id", "search_words", "pack_sizes_ml"),
        *("osmolarity_labelled_mosm_l", "energy_kcal_l", "never_hung", "note", "source"),
        *("composition_mmol_l", "composition_g_l", "other", "ph", "explained"),
    }
)


class EntryError(Exception):
    """One field of a catalogue file that cannot be read: field, value, what is accepted."""

    def __init__(self, field: str, value: object, accepted: str) -> None:
        super().__init__(field, value, accepted)
        self.field = field
        self.value = value
        self.accepted = accepted

    def __str__(self) -> str:
        return f"{self.field}: {self.value!r} is not accepted; accepted: {self.accepted}"


def fluid_from(entry: Mapping[str, Any], *, file_id: str) -> Fluid:
    """The Fluid a catalogue file describes. Raises EntryError naming the first wrong field."""
    unknown = set(entry) - TOP_KEYS
    if unknown:
        raise EntryError(sorted(unknown)[0], "unknown field", ", ".join(sorted(TOP_KEYS)))
    if _text(entry, "id") != file_id:
        raise EntryError("id", entry["id"], f"the file's own name, {file_id!r}")
    return Fluid(
        id=file_id,
        name=_text(entry, "name"),
        kind=_kind(entry),
        composition=composition_of(entry),
        osmolarity_labelled_mosm_l=_number_or_none(entry, "osmolarity_labelled_mosm_l"),
        ph=_ph(entry.get("ph", {})),
        energy_kcal_l=_number_or_none(entry, "energy_kcal_l"),
        pack_sizes_ml=tuple(int(size) for size in entry.get("pack_sizes_ml", ())),
        sources=_sources(entry),
        search_words=tuple(entry.get("search_words", ())),
        variant_of=entry.get("variant_of", ""),
        never_hung=entry.get("never_hung", ""),
        note=entry.get("note", ""),
        explained=tuple(sorted(entry.get("explained", {}).items())),
        reference_id=entry.get("reference_id", ""),
    )


def _text(entry: Mapping[str, Any], field: str) -> str:
    value = entry.get(field)
    if not isinstance(value, str) or not value.strip():
        raise EntryError(field, value, "a text that is not empty")
    return value


def _kind(entry: Mapping[str, Any]) -> FluidKind:
    kinds: tuple[FluidKind, ...] = get_args(FluidKind)
    for kind in kinds:
        if entry.get("kind") == kind:
            return kind
    raise EntryError("kind", entry.get("kind"), ", ".join(kinds))


def number_of(value: object, field: str) -> float:
    """A number, 0 or more. Raises EntryError naming the field."""
    if isinstance(value, bool) or not isinstance(value, int | float) or value < 0:
        raise EntryError(field, value, "a number, 0 or more")
    return float(value)


def _number_or_none(entry: Mapping[str, Any], field: str) -> float | None:
    return None if entry.get(field) is None else number_of(entry[field], field)


def composition_of(entry: Mapping[str, Any]) -> Composition:
    """What a litre holds, from a file's tables. Raises EntryError naming the wrong field."""
    ions = dict(entry.get("composition_mmol_l", {}))
    not_labelled = ions.pop("not_labelled", [])
    if not set(not_labelled) <= {"chloride"}:
        raise EntryError("composition_mmol_l.not_labelled", not_labelled, '["chloride"] or nothing')
    masses = dict(entry.get("composition_g_l", {}))
    basis = masses.pop("glucose_basis", None)
    if masses.get("glucose") and basis not in BASES:
        raise EntryError("composition_g_l.glucose_basis", basis, " or ".join(BASES))
    amounts: dict[str, float | None] = {}
    for key, value in ions.items():
        if key not in ION_KEYS:
            raise EntryError(f"composition_mmol_l.{key}", value, ", ".join(ION_KEYS))
        amounts[f"{key}_mmol_l"] = number_of(value, f"composition_mmol_l.{key}")
    for key, value in masses.items():
        if key not in MASS_KEYS:
            raise EntryError(f"composition_g_l.{key}", value, ", ".join(MASS_KEYS))
        amounts[f"{key}_g_l"] = number_of(value, f"composition_g_l.{key}")
    if not_labelled:
        amounts["chloride_mmol_l"] = None
    other = entry.get("other", {})
    return Composition(
        **amounts,  # type: ignore[arg-type]  # only chloride can be None, set two lines up
        glucose_monohydrate=basis == "monohydrate",
        other_solute_mmol_l=number_of(
            other.get("other_solute_mmol_l", 0), "other.other_solute_mmol_l"
        ),
        colloid_charge_meq_l=float(other.get("colloid_charge_meq_l", 0)),
    )


def _ph(ph: Mapping[str, Any]) -> PhRange:
    return PhRange(
        low=_number_or_none(ph, "low"),
        typical=_number_or_none(ph, "typical"),
        high=_number_or_none(ph, "high"),
    )


def _sources(entry: Mapping[str, Any]) -> tuple[Source, ...]:
    sources = entry.get("source", [])
    if not sources:
        raise EntryError("source", "none", "at least one [[source]] with work and seen")
    return tuple(source_of(source) for source in sources)


def source_of(source: Mapping[str, Any]) -> Source:
    """One source of a file. Raises EntryError when it names no work."""
    return Source(
        work=_text(source, "work"),
        place=source.get("place", ""),
        seen=bool(source.get("seen", False)),
        covers=tuple(source.get("covers", ())),
        note=source.get("note", ""),
    )
