"""A Fluid written out as the catalogue file it could have come from."""

from collections.abc import Mapping
from typing import Any, Final

from app.catalogue.entry import ION_KEYS, MASS_KEYS
from app.catalogue.fluid import Fluid
from app.catalogue.source import Source
from app.chemistry.composition import Composition

TEXTS: Final = ("variant_of", "reference_id", "never_hung", "note")
OTHER: Final = ("other_solute_mmol_l", "colloid_charge_meq_l")


def document_of(fluid: Fluid) -> dict[str, Any]:
    """The entry as plain values, absent things left out: fluid_from() reads the same Fluid back."""
    whole = {
        "id": fluid.id,
        "name": fluid.name,
        "kind": fluid.kind,
        **{field: getattr(fluid, field) for field in TEXTS},
        "search_words": list(fluid.search_words),
        "pack_sizes_ml": list(fluid.pack_sizes_ml),
        "osmolarity_labelled_mosm_l": fluid.osmolarity_labelled_mosm_l,
        "energy_kcal_l": fluid.energy_kcal_l,
        "composition_mmol_l": _ions(fluid.composition),
        "composition_g_l": _masses(fluid.composition),
        "other": _amounts({field: getattr(fluid.composition, field) for field in OTHER}),
        "ph": {"low": fluid.ph.low, "typical": fluid.ph.typical, "high": fluid.ph.high},
        "explained": dict(fluid.explained),
        "source": [_source(source) for source in fluid.sources],
    }
    return _held(whole)


def _ions(composition: Composition) -> dict[str, Any]:
    ions: dict[str, Any] = {key: composition.ion_mmol_l(key) for key in ION_KEYS}
    not_labelled = [key for key, amount in ions.items() if amount is None]
    return {**_amounts(ions), "not_labelled": not_labelled}


def _masses(composition: Composition) -> dict[str, Any]:
    masses: dict[str, Any] = {key: getattr(composition, f"{key}_g_l") for key in MASS_KEYS}
    if composition.glucose_monohydrate:
        return {**_amounts(masses), "glucose_basis": "monohydrate"}
    return {**_amounts(masses), "glucose_basis": "anhydrous" if masses["glucose"] else ""}


def _amounts(table: Mapping[str, Any]) -> dict[str, Any]:
    """What is there: an amount of nothing need not be said. A label's own figures may be 0."""
    return {key: amount for key, amount in table.items() if amount}


def _source(source: Source) -> dict[str, Any]:
    told = {"work": source.work, "place": source.place, "note": source.note}
    return {**_held(told), "covers": list(source.covers), "seen": source.seen}


def _held(table: Mapping[str, Any]) -> dict[str, Any]:
    """The table without what is not given or empty."""
    parts = {key: _held(part) if isinstance(part, dict) else part for key, part in table.items()}
    return {key: part for key, part in parts.items() if part not in (None, "", [], {})}
