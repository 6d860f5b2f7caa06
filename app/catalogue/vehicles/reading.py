"""A file of usual vehicles (already parsed TOML) turned into Vehicles, told field by field."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any, Final

from app.catalogue.catalogue import Catalogue
from app.catalogue.entry import EntryError, composition_of, number_of, source_of
from app.catalogue.fluid import Fluid
from app.catalogue.source import Source
from app.catalogue.vehicles.vehicle import Vehicle

ITSELF: Final = "itself"
VARIES: Final = "varies"
DOSE: Final = re.compile(r"(\d+(?:\.\d+)?) (g|mg)")
G_OF: Final[Mapping[str, float]] = MappingProxyType({"g": 1.0, "mg": 0.001})
KEYS: Final = frozenset(
    {
        *("dose", "doses_per_day", "fluid", "volume_ml", "volume_range_ml", "minutes", "flush_ml"),
        *("sodium_mmol_per_g", "potassium_mmol_per_g", "holds_mmol_l", "holds_g_l", "unknown"),
        *("energy_kcal_ml", "runs_all_day", "only_by_vein", "note", "source"),
    }
)


def vehicles_from(file: Mapping[str, Any], catalogue: Catalogue) -> tuple[Vehicle, ...]:
    """The vehicles of one file (parsed TOML). Raises EntryError naming entry, field and value."""
    shared = tuple(source_of(source) for source in file.get("source", ()))
    return tuple(
        _vehicle(key, entry, shared, catalogue) for key, entry in file.get("vehicle", {}).items()
    )


def _vehicle(
    key: str, entry: Mapping[str, Any], shared: tuple[Source, ...], catalogue: Catalogue
) -> Vehicle:
    for name in entry:
        if name not in KEYS:
            raise EntryError(f"{key}.{name}", "unknown field", ", ".join(sorted(KEYS)))
    own = (source_of(entry["source"]),) if "source" in entry else ()
    if not (own or shared):
        raise EntryError(f"{key}.source", "none", "a [[source]] of the file or of the entry")
    number = _Numbers(key, entry)
    runs = bool(entry.get("runs_all_day", False))
    return Vehicle(
        key=key,
        dose_g=_dose_g(key, entry),
        doses_per_day=number("doses_per_day", 1.0),
        fluid=_fluid(key, entry, catalogue),
        holds=composition_of(
            {
                "composition_mmol_l": entry.get("holds_mmol_l", {}),
                "composition_g_l": entry.get("holds_g_l", {}),
            }
        ),
        carrier_varies=entry["fluid"] == VARIES,
        volume_ml=None if runs else number("volume_ml"),
        volume_range_ml=None if runs else _range(key, entry),
        minutes=number("minutes") if "minutes" in entry else None,
        flush_ml=number("flush_ml", 0.0),
        sodium_mmol_per_g=number("sodium_mmol_per_g", 0.0),
        potassium_mmol_per_g=number("potassium_mmol_per_g", 0.0),
        energy_kcal_ml=number("energy_kcal_ml", 0.0),
        runs_all_day=runs,
        only_by_vein=bool(entry.get("only_by_vein", False)),
        unknown=tuple(entry.get("unknown", ())),
        note=entry.get("note", ""),
        sources=(*own, *shared),
    )


@dataclass(frozen=True, slots=True)
class _Numbers:
    """Numbers of one entry by field."""

    key: str
    entry: Mapping[str, Any]

    def __call__(self, name: str, default: float | None = None) -> float:
        value = self.entry.get(name, default)
        return number_of(value, f"{self.key}.{name}")


def _fluid(key: str, entry: Mapping[str, Any], catalogue: Catalogue) -> Fluid | None:
    name = entry.get("fluid")
    if name in (ITSELF, VARIES):
        return None
    fluid = catalogue.get(name) if isinstance(name, str) else None
    if fluid is None:
        raise EntryError(f"{key}.fluid", name, f"a catalogue id, {ITSELF!r} or {VARIES!r}")
    return fluid


def _dose_g(key: str, entry: Mapping[str, Any]) -> float | None:
    if "dose" not in entry:
        return None
    match = DOSE.fullmatch(str(entry["dose"]))
    if not match:
        raise EntryError(f"{key}.dose", entry["dose"], "a number with g or mg, such as 4.5 g")
    return float(match[1]) * G_OF[match[2]]


def _range(key: str, entry: Mapping[str, Any]) -> tuple[float, float]:
    given = entry.get("volume_range_ml")
    name = f"{key}.volume_range_ml"
    accepted = "[lowest, highest], mL, with volume_ml between them"
    if not isinstance(given, list) or len(given) != len(("lowest", "highest")):
        raise EntryError(name, given, accepted)
    low, high = (number_of(value, name) for value in given)
    if not low <= entry["volume_ml"] <= high:
        raise EntryError(name, given, accepted)
    return low, high
