"""What is wrong with a catalogue entry, as far as its own figures can tell."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from app.catalogue.fluid import Fluid
from app.catalogue.source import Source
from app.chemistry.substances import (
    GLUCOSE_ANHYDROUS_G_MOL,
    GLUCOSE_MONOHYDRATE_G_MOL,
    ION_BY_KEY,
    MANNITOL_G_MOL,
)

# Labels come from whole salts, so a true one balances nearly to the digit; 3% would let the slip of
# a whole ion through. A label that rounds more coarsely says so in `explained`. Both limits were
# set by trial on the catalogue; common practice, no source.
CHARGE_SLACK_MEQ_L: Final = 0.35
OSMOLARITY_SHARE: Final = 0.005
OSMOLARITY_SLACK_MOSM_L: Final = 2.0
# Energy of glucose, kcal/g: labels use 3.4 for the monohydrate and 4 for the anhydrous sugar.
KCAL_PER_G: Final = {True: 3.4, False: 4.0}
# What a buffer may add or rounding take away, kcal/L: lactate and gluconate bring 9 to 54.
ENERGY_SHARE: Final = 0.08
BUFFER_KCAL_PER_MMOL: Final = 0.5
ENERGY_SLACK_KCAL_L: Final = 2.0
# Sodium of an albumin whose chloride is on no label, mmol/L: by maker and pharmacopoeia.
UNBALANCED_SODIUM_MMOL_L: Final = (40.0, 160.0)
STRENGTH_SHARE: Final = 0.02
NACL_G_MOL: Final = 58.44
NAHCO3_G_MOL: Final = 84.01
STRENGTHS: Final = (
    (r"([\d.]+)% sodium chloride", "sodium_mmol_l", NACL_G_MOL),
    (r"([\d.]+)% sodium bicarbonate", "bicarbonate_mmol_l", NAHCO3_G_MOL),
    (r"([\d.]+)% (?:US )?dextrose", "glucose_mmol_l", GLUCOSE_MONOHYDRATE_G_MOL),
    (r"([\d.]+)% glucose", "glucose_mmol_l", GLUCOSE_ANHYDROUS_G_MOL),
    (r"([\d.]+)% mannitol", "mannitol_mmol_l", MANNITOL_G_MOL),
)
MG_PER_PERCENT_L: Final = 10_000.0


@dataclass(frozen=True, slots=True)
class Fault:
    """One doubt about an entry: which fluid, which field, and what is wrong, for a person."""

    fluid_id: str
    field: str
    text: str

    def __str__(self) -> str:
        return f"{self.fluid_id}: {self.field}: {self.text}"


def check_fluid(fluid: Fluid) -> tuple[Fault, ...]:
    """Every fault of an entry: charge, osmolarity, strength, energy, pH, packs, sources.

    A field with a reason in the entry's `explained` table may differ; a figure without a source,
    a pH out of order or no composition at all may not.
    """
    explained = {field for field, _ in fluid.explained}
    found = (
        *_charge(fluid),
        *_osmolarity(fluid),
        *_strength(fluid),
        *_energy(fluid),
        *_unbalanced_sodium(fluid),
    )
    doubts = (Fault(fluid.id, field, text) for field, text in found if field not in explained)
    certain = (*_ph(fluid), *_packs(fluid), *_sources(fluid))
    return (*doubts, *(Fault(fluid.id, field, text) for field, text in certain))


Found = Iterator[tuple[str, str]]


def _charge(fluid: Fluid) -> Found:
    composition = fluid.composition
    gap, anions = composition.charge_gap_meq_l, composition.anions_meq_l
    if gap is None or anions is None:
        return
    if abs(gap) > CHARGE_SLACK_MEQ_L:
        cations = composition.cations_meq_l
        yield "charge", f"{cations:g} mEq/L of cations against {anions:g} of anions"


def _osmolarity(fluid: Fluid) -> Found:
    labelled, computed = fluid.osmolarity_labelled_mosm_l, fluid.composition.osmolarity_mosm_l
    if labelled is None or computed is None:
        return
    if abs(labelled - computed) > max(OSMOLARITY_SLACK_MOSM_L, OSMOLARITY_SHARE * labelled):
        yield "osmolarity", f"label {labelled:g} mOsm/L, computed {computed:.1f}"


def _strength(fluid: Fluid) -> Found:
    """A strength that the name states and the figures do not have."""
    for pattern, field, molar_mass_g_mol in STRENGTHS:
        stated = re.search(pattern, fluid.name)
        if stated is None:
            continue
        expected = float(stated.group(1)) * MG_PER_PERCENT_L / molar_mass_g_mol
        held = getattr(fluid.composition, field)
        if abs(held - expected) > STRENGTH_SHARE * expected:
            text = f"the name says {stated.group(1)}%, {expected:.1f} mmol/L; the entry {held:g}"
            yield "strength", text


def _energy(fluid: Fluid) -> Found:
    composition = fluid.composition
    if fluid.energy_kcal_l is None:
        return
    sugar = composition.glucose_g_l * KCAL_PER_G[composition.glucose_monohydrate]
    buffers = composition.lactate_mmol_l + composition.acetate_mmol_l + composition.gluconate_mmol_l
    slack = ENERGY_SLACK_KCAL_L + ENERGY_SHARE * sugar
    low, high = sugar - slack, sugar + slack + BUFFER_KCAL_PER_MMOL * buffers
    if not low <= fluid.energy_kcal_l <= high:
        yield "energy", f"{fluid.energy_kcal_l:g} kcal/L against {sugar:g} from glucose"


def _unbalanced_sodium(fluid: Fluid) -> Found:
    low, high = UNBALANCED_SODIUM_MMOL_L
    sodium = fluid.composition.sodium_mmol_l
    if fluid.composition.chloride_mmol_l is None and not low <= sodium <= high:
        yield "sodium", f"{sodium:g} mmol/L lies outside {low:g} to {high:g} for an albumin"


def _ph(fluid: Fluid) -> Found:
    given = [v for v in (fluid.ph.low, fluid.ph.typical, fluid.ph.high) if v is not None]
    if given != sorted(given):
        yield "ph", "low, typical and high are not in order"
    if any(not 1 <= value <= 14 for value in given):  # noqa: PLR2004 - the scale itself
        yield "ph", "not on the pH scale"


def _packs(fluid: Fluid) -> Found:
    if any(size <= 0 for size in fluid.pack_sizes_ml):
        yield "pack_sizes", "a pack holds more than 0 mL"
    if list(fluid.pack_sizes_ml) != sorted(set(fluid.pack_sizes_ml)):
        yield "pack_sizes", "sizes go up, each once"


def figure_fields(fluid: Fluid) -> tuple[str, ...]:
    """The fields of an entry that state a figure and so need a source ("composition.sodium")."""
    composition = fluid.composition
    held = [f"composition.{key}" for key in ION_BY_KEY if composition.ion_mmol_l(key)]
    held += [
        f"composition.{key}"
        for key in ("glucose", "albumin", "gelatin", "starch", "mannitol")
        if getattr(composition, f"{key}_g_l")
    ]
    others = {
        "osmolarity": fluid.osmolarity_labelled_mosm_l,
        "ph.low": fluid.ph.low,
        "ph.typical": fluid.ph.typical,
        "ph.high": fluid.ph.high,
        "energy": fluid.energy_kcal_l,
        "pack_sizes": fluid.pack_sizes_ml or None,
    }
    return (*held, *(field for field, value in others.items() if value is not None))


def _sources(fluid: Fluid) -> Found:
    for field in figure_fields(fluid):
        if not fluid.sources_of(field):
            yield field, "no source covers this figure"
    for source in fluid.sources:
        yield from _source_gaps(source)


def _source_gaps(source: Source) -> Found:
    if not source.work.strip():
        yield "source", "a source without a work"
