"""Fluids that a ward would hang for the same purpose as another, the preferred first."""

from collections.abc import Iterator
from functools import lru_cache, partial
from itertools import chain, groupby
from typing import Final

from app.catalogue.catalogue import Catalogue
from app.catalogue.fluid import Fluid
from app.catalogue.stock.stock import NOTHING_TOLD, Stock
from app.chemistry.composition import Composition

POTASSIUM_BALANCED_MMOL_L: Final = 5.5
POTASSIUM_PREMIXED_MMOL_L: Final = 10.0
# Base so strong that it is a treatment, not a fluid.
BICARBONATE_GIVEN_MMOL_L: Final = 50.0
SODIUM_OF_STRONG_MMOL_L: Final = 160.0
COMPARED: Final = (
    "sodium", "potassium", "calcium", "magnesium", "chloride", "lactate", "acetate", "gluconate",
)  # fmt: skip
PLASMA_SALT_MMOL_L: Final = 145.0
SODIUM_KEPT_WITHIN_MMOL_L: Final = 30.0
# Weight of glucose in the distance, mmol for each g/L, so that sugar does not drown the salts.
GLUCOSE_WEIGHT: Final = 2.0
# Fluids whose distances fall within one such step, mmol, are equally near (our judgement): where
# each is to be had then decides.
EQUALLY_NEAR_MMOL: Final = 10.0
# Lists of candidates kept: one for each fluid and each of three wishes, of two catalogues.
KEPT_LISTS: Final = 512


# Fluids that are otherwise equal, the nearest first.
Equals = tuple[Fluid, ...]


def fluids_alike(
    catalogue: Catalogue,
    now: Fluid,
    wants_potassium: bool,
    saltier: bool,
    stock: Stock = NOTHING_TOLD,
) -> tuple[Fluid, ...]:
    """Other fluids of the same sort, the preferred first: none that is out or withdrawn, and of
    those otherwise equal what is on the ward first and what is short last.
    """
    groups = _alike(catalogue, now, wants_potassium, saltier)
    if stock.states:
        return tuple(chain.from_iterable(_to_be_had(equals, stock) for equals in groups))
    return tuple(chain.from_iterable(groups))


def _to_be_had(equals: Equals, stock: Stock) -> Iterator[Fluid]:
    offered = (f for f in equals if stock.may_offer(f.id))
    yield from sorted(offered, key=lambda fluid: stock.rank(fluid.id))


@lru_cache(maxsize=KEPT_LISTS)
def _alike(
    catalogue: Catalogue, now: Fluid, wants_potassium: bool, saltier: bool
) -> tuple[Equals, ...]:
    """The same whatever the stock and for every patient: equals together, the preferred first."""
    alike = (f for f in catalogue if f is not now and _same_sort(now, f, wants_potassium))
    ranked = sorted(alike, key=partial(_preference, now, saltier))
    return tuple(tuple(same) for _, same in groupby(ranked, key=partial(_equals, now, saltier)))


def _same_sort(now: Fluid, other: Fluid, wants_potassium: bool) -> bool:
    """Something a ward would hang for the same purpose: nothing is given that was not asked for."""
    mine, its = now.composition, other.composition
    if other.never_hung or other.kind not in (now.kind, "crystalloid") or now.kind == "osmotic":
        return False
    if its.glucose_g_l and not mine.glucose_g_l:
        return False
    if wants_potassium:
        near = abs(its.sodium_mmol_l - mine.sodium_mmol_l) <= SODIUM_KEPT_WITHIN_MMOL_L
        return near and its.potassium_mmol_l >= POTASSIUM_PREMIXED_MMOL_L
    if its.bicarbonate_mmol_l >= BICARBONATE_GIVEN_MMOL_L > mine.bicarbonate_mmol_l:
        return False
    if its.potassium_mmol_l > max(POTASSIUM_BALANCED_MMOL_L, mine.potassium_mmol_l):
        return False
    if its.lactate_mmol_l >= BICARBONATE_GIVEN_MMOL_L > mine.lactate_mmol_l:
        return False
    return other.tonicity_class in (tonicity_as_hung(now), "isotonic")


def tonicity_as_hung(fluid: Fluid) -> str | None:
    """Added potassium makes a bag of saline hypertonic by count; it is an isotonic fluid still."""
    salt = fluid.composition.sodium_mmol_l
    strong = fluid.tonicity_class == "hypertonic" and salt > SODIUM_OF_STRONG_MMOL_L
    return fluid.tonicity_class if strong or fluid.tonicity_class == "hypotonic" else "isotonic"


def _preference(now: Fluid, saltier: bool, other: Fluid) -> tuple[bool, bool, float, float, str]:
    """Same tonicity and glucose first, then the nearest; where salt lacks, nearest to plasma."""
    unlike, sweet, away = _sort(now, saltier, other)
    return unlike, sweet, away, _distance(now.composition, other.composition), other.id


def _equals(now: Fluid, saltier: bool, other: Fluid) -> tuple[bool, bool, float, int]:
    """What otherwise equal fluids share."""
    steps = _distance(now.composition, other.composition) // EQUALLY_NEAR_MMOL
    return *_sort(now, saltier, other), int(steps)


def _sort(now: Fluid, saltier: bool, other: Fluid) -> tuple[bool, bool, float]:
    """Another tonicity, glucose where there was none or none where there was, salt from plasma."""
    its = other.composition
    sweet = bool(now.composition.glucose_g_l) != bool(its.glucose_g_l)
    away = abs(its.cation_salt_mmol_l - PLASMA_SALT_MMOL_L) if saltier else 0.0
    return other.tonicity_class != tonicity_as_hung(now), sweet, away


def _distance(first: Composition, second: Composition) -> float:
    ions = sum(
        abs((first.ion_mmol_l(ion) or 0.0) - (second.ion_mmol_l(ion) or 0.0)) for ion in COMPARED
    )
    return ions + GLUCOSE_WEIGHT * abs(first.glucose_g_l - second.glucose_g_l)
