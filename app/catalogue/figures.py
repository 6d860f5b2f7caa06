"""Figures computed from a composition, each with its formula and the numbers put in."""

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from app.chemistry.bicarbonate import bicarbonate_equivalents_mmol
from app.chemistry.composition import PHOSPHATE_CHARGE_AT_PH_7_4, Composition
from app.chemistry.substances import (
    ANIONS,
    CATIONS,
    GLUCOSE_ANHYDROUS_G_MOL,
    GLUCOSE_MONOHYDRATE_G_MOL,
    IONS,
    MANNITOL_G_MOL,
)
from app.chemistry.water import (
    EDELMAN_INTERCEPT_MMOL_L,
    EDELMAN_SLOPE,
    electrolyte_free_water_edelman_l,
    electrolyte_free_water_l,
)

# The plasma sodium that free water is counted against when no patient is named, mmol/L.
REFERENCE_PLASMA_SODIUM_MMOL_L: Final = 140.0
NO_CHLORIDE: Final = "not computed: no chloride on the label"
# Workings are written to two decimals, litres to three (a millilitre).
DECIMALS: Final = 2
# Compositions whose figures are kept: a catalogue's, and bags with additives.
KEPT: Final = 512
LITRE_DECIMALS: Final = 3


@dataclass(frozen=True, slots=True)
class Figure:
    """One computed figure of a litre of a fluid.

    value is None when something it needs is not on the label; working then says what. formula is
    in words, working has the numbers put in ("130 + 4 + 2 × 1.35 − 109 = 27.7").
    """

    key: str
    name: str
    unit: str
    value: float | None
    formula: str
    working: str


@dataclass(frozen=True, slots=True)
class Term:
    """One part of a sum: how many times which amount, with its sign; text: how it came about."""

    times: float
    amount: float
    text: str = ""

    @property
    def value(self) -> float:
        """The term's contribution."""
        return self.times * self.amount


@lru_cache(maxsize=KEPT)
def figures(
    composition: Composition, *, plasma_sodium_mmol_l: float = REFERENCE_PLASMA_SODIUM_MMOL_L
) -> tuple[Figure, ...]:
    """Every computed figure of a litre, in a fixed order; plasma sodium is for free water only."""
    return (
        _osmolarity(composition),
        _tonicity(composition),
        _strong_ion_difference(composition),
        _bicarbonate(composition),
        _bicarbonate_without_gluconate(composition),
        _free_water(composition, plasma_sodium_mmol_l),
        _free_water_edelman(composition, plasma_sodium_mmol_l),
        _charge_gap(composition),
    )


def written(value: float, decimals: int = DECIMALS) -> str:
    """A number as these workings write it: no trailing zeros, a true minus, no minus zero."""
    rounded = round(value, decimals) + 0.0
    return f"{rounded:.{decimals}f}".rstrip("0").rstrip(".").replace("-", "−")


def sum_text(terms: tuple[Term, ...]) -> str:
    """A sum with its numbers and result: "130 + 4 + 2 × 1.35 − 109 = 27.7"; zero terms left out."""
    shown = [term for term in terms if term.value]
    if not shown:
        return "0"
    if len(shown) == 1 and shown[0].times == 1 and not shown[0].text:
        return written(shown[0].value)
    text = ""
    for term in shown:
        sign = "−" if term.value < 0 else "+"
        size = "" if abs(term.times) == 1 else f"{written(abs(term.times))} × "
        text += f" {sign} {size}{term.text or written(abs(term.amount))}"
    return f"{text.removeprefix(' + ').strip()} = {written(sum(term.value for term in terms))}"


def _summed(key: str, name: str, unit: str, formula: str, terms: tuple[Term, ...]) -> Figure:
    return Figure(key, name, unit, sum(term.value for term in terms), formula, sum_text(terms))


def _unknown(key: str, name: str, unit: str, formula: str) -> Figure:
    return Figure(key, name, unit, None, formula, NO_CHLORIDE)


def _particles(c: Composition) -> tuple[Term, ...]:
    ions = tuple(Term(1, c.ion_mmol_l(ion.key) or 0.0) for ion in IONS)
    mannitol = _from_mass(c.mannitol_mmol_l, c.mannitol_g_l, MANNITOL_G_MOL)
    return (*ions, mannitol, Term(1, c.other_solute_mmol_l))


def _from_mass(mmol_l: float, g_l: float, molar_mass_g_mol: float) -> Term:
    return Term(1, mmol_l, f"{written(g_l)} × 1000 / {written(molar_mass_g_mol)}")


def _osmolarity(c: Composition) -> Figure:
    about = ("osmolarity", "osmolarity, calculated", "mOsm/L", "every dissolved particle, added up")
    if c.osmolarity_mosm_l is None:
        return _unknown(*about)
    molar = GLUCOSE_MONOHYDRATE_G_MOL if c.glucose_monohydrate else GLUCOSE_ANHYDROUS_G_MOL
    return _summed(*about, (*_particles(c), _from_mass(c.glucose_mmol_l, c.glucose_g_l, molar)))


def _tonicity(c: Composition) -> Figure:
    about = ("tonicity", "tonicity", "mOsm/L", "osmolarity without glucose, which cells take up")
    return _unknown(*about) if c.tonicity_mosm_l is None else _summed(*about, _particles(c))


def _cations(c: Composition) -> tuple[Term, ...]:
    return tuple(Term(ion.charge or 0, c.ion_mmol_l(ion.key) or 0.0) for ion in CATIONS)


def _strong_ions(c: Composition) -> tuple[Term, ...]:
    return (*_cations(c), Term(-1, c.chloride_mmol_l or 0.0), Term(-2, c.sulfate_mmol_l))


def _strong_ion_difference(c: Composition) -> Figure:
    formula = "Na + K + 2 Ca + 2 Mg − Cl − 2 sulfate, once the organic anions are used"
    about = ("strong_ion_difference", "strong ion difference", "mEq/L", formula)
    if c.strong_ion_difference_meq_l is None:
        return _unknown(*about)
    return _summed(*about, _strong_ions(c))


def _bicarbonate(c: Composition) -> Figure:
    formula = "strong ion difference less what stays: colloid charge and phosphate"
    about = ("bicarbonate_equivalents", "bicarbonate equivalents", "mmol/L", formula)
    if bicarbonate_equivalents_mmol(c, 1) is None:
        return _unknown(*about)
    return _summed(*about, _bicarbonate_terms(c))


def _bicarbonate_without_gluconate(c: Composition) -> Figure:
    name = "bicarbonate equivalents, gluconate excreted unchanged"
    formula = "bicarbonate equivalents less gluconate"
    about = ("bicarbonate_equivalents_no_gluconate", name, "mmol/L", formula)
    if bicarbonate_equivalents_mmol(c, 1) is None:
        return _unknown(*about)
    return _summed(*about, (*_bicarbonate_terms(c), Term(-1, c.gluconate_mmol_l)))


def _bicarbonate_terms(c: Composition) -> tuple[Term, ...]:
    return (
        *_strong_ions(c),
        Term(PHOSPHATE_CHARGE_AT_PH_7_4, c.phosphate_mmol_l),
        Term(-1, -c.colloid_charge_meq_l),
    )


def _free_water(c: Composition, plasma: float) -> Figure:
    value = electrolyte_free_water_l(c, 1, plasma)
    salt = f"({written(c.sodium_mmol_l)} + {written(c.potassium_mmol_l)})"
    return Figure(
        "electrolyte_free_water",
        "electrolyte-free water",
        "L in each litre",
        value,
        "1 − (Na + K) / plasma Na",
        f"1 − {salt} / {written(plasma)} = {written(value, LITRE_DECIMALS)}",
    )


def _free_water_edelman(c: Composition, plasma: float) -> Figure:
    value = electrolyte_free_water_edelman_l(c, 1, plasma)
    salt = f"({written(c.sodium_mmol_l)} + {written(c.potassium_mmol_l)})"
    below = f"({written(plasma)} + {EDELMAN_INTERCEPT_MMOL_L})"
    return Figure(
        "electrolyte_free_water_edelman",
        "electrolyte-free water, by Edelman's line",
        "L in each litre",
        value,
        "1 − 1.03 × (Na + K) / (plasma Na + 23.8)",
        f"1 − {EDELMAN_SLOPE} × {salt} / {below} = {written(value, LITRE_DECIMALS)}",
    )


def _charge_gap(c: Composition) -> Figure:
    about = ("charge_gap", "charge gap", "mEq/L", "cation charges less anion charges")
    if c.charge_gap_meq_l is None:
        return _unknown(*about)
    anions = tuple(
        Term(ion.charge or PHOSPHATE_CHARGE_AT_PH_7_4, c.ion_mmol_l(ion.key) or 0.0)
        for ion in ANIONS
    )
    return _summed(*about, (*_cations(c), *anions, Term(-1, -c.colloid_charge_meq_l)))


# Every figure's key, name, unit and formula, in their order (those of water, which has none).
FIGURES: Final = figures(Composition())
