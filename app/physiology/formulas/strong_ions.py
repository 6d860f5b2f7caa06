"""Strong ions and weak acids: what a fluid brings, and the pH that charges settle at."""

from collections.abc import Callable
from typing import Final

from app.chemistry.bicarbonate import bicarbonate_equivalents_mmol
from app.chemistry.composition import Composition
from app.physiology.acid_base import (
    Plasma,
    albumin_charge_meq_l,
    bicarbonate_of,
    phosphate_charge_meq_l,
    solve_ph,
    strong_ion_gap_meq_l,
)
from app.physiology.formulas.formula import PH, Formula, Given, Part, Source, Subject, Term, example

# A difference of none is told to a tenth.
SMALL: Final = 0.05

IONS: Final = (
    Term("sodium_mmol_l", "Na", "mmol/L"),
    Term("potassium_mmol_l", "K", "mmol/L"),
    Term("calcium_mmol_l", "Ca", "mmol/L"),
    Term("magnesium_mmol_l", "Mg", "mmol/L"),
    Term("chloride_mmol_l", "Cl", "mmol/L"),
)


def _difference(
    *,
    sodium_mmol_l: float,
    potassium_mmol_l: float = 0.0,
    calcium_mmol_l: float = 0.0,
    magnesium_mmol_l: float = 0.0,
    chloride_mmol_l: float = 0.0,
) -> float:
    litre = Composition(
        sodium_mmol_l=sodium_mmol_l,
        potassium_mmol_l=potassium_mmol_l,
        calcium_mmol_l=calcium_mmol_l,
        magnesium_mmol_l=magnesium_mmol_l,
        chloride_mmol_l=chloride_mmol_l,
    )
    return litre.strong_ion_difference_meq_l or 0.0


DIFFERENCE: Final = Formula(
    id="strong-ion-difference",
    title="Strong ion difference of a fluid, once its buffers are used",
    terms=IONS,
    sources=(
        Source("Stewart, Can J Physiol Pharmacol 1983;61:1444"),
        Source("Morgan, Clin Biochem Rev 2009;30:41"),
        Source("Carlesso et al., Intensive Care Med 2011;37:461"),
    ),
    misleads=(
        "Above the patient's bicarbonate a fluid raises pH at constant carbon dioxide, below it "
        "lowers it: a direction, no size. 24 is neutral for the well alone.",
        "Not the sum of organic anions: acetate 24 and malate 2 × 5 make 34, but malic acid "
        "brought protons, and 29 is right.",
        "It counts every buffer as used. Much gluconate leaves unchanged.",
    ),
    parts=(
        Part("", "Na + K + 2 × Ca + 2 × Mg − Cl (− 2 × sulfate, where there is any)", "mEq/L",
             _difference, (
            example(0, "0.9% sodium chloride", within=SMALL, sodium_mmol_l=154,
                    chloride_mmol_l=154),
            example(0, "Ringer's", within=SMALL, sodium_mmol_l=147, potassium_mmol_l=4,
                    calcium_mmol_l=2.25, chloride_mmol_l=155.5),
            example(27.7, "lactated Ringer's, US", sodium_mmol_l=130, potassium_mmol_l=4,
                    calcium_mmol_l=1.35, chloride_mmol_l=109),
            example(29, "compound sodium lactate, UK", sodium_mmol_l=131, potassium_mmol_l=5,
                    calcium_mmol_l=2, chloride_mmol_l=111),
            example(29, "with acetate and malate", sodium_mmol_l=145, potassium_mmol_l=4,
                    calcium_mmol_l=2.5, magnesium_mmol_l=1, chloride_mmol_l=127),
            example(50, "multiple electrolytes, type 1", sodium_mmol_l=140, potassium_mmol_l=5,
                    magnesium_mmol_l=1.5, chloride_mmol_l=98),
            example(1000, "8.4% sodium bicarbonate", sodium_mmol_l=1000),
            example(0, "5% dextrose", within=SMALL, sodium_mmol_l=0),
        )),
    ),
)  # fmt: skip


def _load(
    *, volume_l: float, difference: float, gluconate: float = 0.0, used: float = 1.0
) -> float:
    bag = Composition(
        sodium_mmol_l=difference + gluconate,
        chloride_mmol_l=gluconate,
        gluconate_mmol_l=gluconate,
    )
    return bicarbonate_equivalents_mmol(bag, volume_l, gluconate_used=used) or 0.0


LOAD: Final = Formula(
    id="bicarbonate-load",
    title="Bicarbonate that a volume brings or leaves",
    terms=(
        Term("volume_l", "V", "L"),
        Term("difference", "SID", "mEq/L", "strong ion difference of the fluid, buffers used"),
        Term("gluconate", "gluconate", "mmol/L"),
        Term("used", "used", "", "share of gluconate that is used, 0 to 1"),
    ),
    sources=(Source("follows from the strong ion difference", ""),),
    misleads=(
        "How much gluconate is used is little known: largely excreted unchanged (from memory).",
        "A failing liver or shock uses lactate late; acetate is used by most tissues.",
    ),
    parts=(
        Part("", "V × (SID − gluconate × (1 − used))", "mmol", _load, (
            example(55.4, "lactated Ringer's", volume_l=2, difference=27.7),
            example(150, "multiple electrolytes type 1, all used", volume_l=3, difference=50,
                    gluconate=23, used=1),
            example(81, "the same, gluconate excreted unchanged", volume_l=3, difference=50,
                    gluconate=23, used=0),
            example(100, "8.4% sodium bicarbonate", volume_l=0.1, difference=1000),
        )),
    ),
)  # fmt: skip

WEAK: Final = (
    Term("ph", "pH"),
    Term("pco2_mmhg", "pCO₂", "mmHg"),
    Term("albumin_g_l", "albumin", "g/L"),
    Term("phosphate_mmol_l", "phosphate", "mmol/L"),
    Term("difference", "SID", "mEq/L", "strong ion difference of plasma"),
)
FIRST: Final[Given] = {"albumin_g_l": 44, "phosphate_mmol_l": 1.16, "ph": 7.40, "pco2_mmhg": 40}
SECOND: Final[Given] = {"albumin_g_l": 20, "phosphate_mmol_l": 1.0, "ph": 7.25, "pco2_mmhg": 30}


def _charges(*, ph: float, pco2_mmhg: float, albumin_g_l: float, phosphate_mmol_l: float) -> float:
    return Plasma(0.0, albumin_g_l, phosphate_mmol_l, pco2_mmhg).charge_meq_l(ph)


def _albumin(*, ph: float, albumin_g_l: float) -> float:
    return albumin_charge_meq_l(albumin_g_l, ph)


def _phosphate(*, ph: float, phosphate_mmol_l: float) -> float:
    return phosphate_charge_meq_l(phosphate_mmol_l, ph)


def _ph(
    *, difference: float, albumin_g_l: float, phosphate_mmol_l: float, pco2_mmhg: float
) -> float:
    return solve_ph(Plasma(difference, albumin_g_l, phosphate_mmol_l, pco2_mmhg))


def _bicarbonate(
    *, difference: float, albumin_g_l: float, phosphate_mmol_l: float, pco2_mmhg: float
) -> float:
    ph = solve_ph(Plasma(difference, albumin_g_l, phosphate_mmol_l, pco2_mmhg))
    return bicarbonate_of(ph, pco2_mmhg)


# SID, albumin, phosphate, pCO2; pH and bicarbonate.
SOLVED: Final = (
    (39, 43, 1.2, 40, 7.4128, 24.74), (34, 43, 1.2, 40, 7.3255, 20.24),
    (29, 43, 1.2, 40, 7.2191, 15.84), (39, 20, 1.2, 40, 7.5097, 30.92),
    (44, 43, 1.2, 40, 7.4866, 29.32), (39, 43, 1.2, 60, 7.2524, 25.65),
)  # fmt: skip

CHARGES: Final = Formula(
    id="weak-acids",
    title="pH at which plasma's charges balance",
    terms=WEAK,
    sources=(
        Source("Figge, Rossing, Fencl, J Lab Clin Med 1991;117:453; Figge, Mydosh, Fencl, "
               "1992;120:713; coefficients of the linear form"),
    ),
    misleads=(
        "Plasma alone, at rest: no red cells, no cells that buffer, so changes are larger than a "
        "patient's. Carbon dioxide is put in, not found.",
        "The authors' later model is another form.",
    ),
    parts=(
        Part("Charge of albumin", "albumin × (0.123 × pH − 0.631)", "mEq/L", _albumin, (
            example(12.28, ph=7.40, albumin_g_l=44), example(5.215, ph=7.25, albumin_g_l=20),
        )),
        Part("Charge of phosphate", "phosphate × (0.309 × pH − 0.469)", "mEq/L", _phosphate, (
            example(2.108, ph=7.40, phosphate_mmol_l=1.16),
            example(1.771, ph=7.25, phosphate_mmol_l=1.0),
        )),
        Part("Bicarbonate", "0.0301 × pCO₂ × 10^(pH − 6.1)", "mmol/L", bicarbonate_of, (
            example(24.02, ph=7.40, pco2_mmhg=40), example(12.76, ph=7.25, pco2_mmhg=30),
        )),
        Part("Sum of the three, which the SID must equal", "bicarbonate + albumin + phosphate",
             "mEq/L", _charges, (example(38.42, **FIRST), example(19.74, **SECOND))),
        Part("pH", "the pH at which SID = bicarbonate + albumin + phosphate", "", _ph, tuple(
            example(row[4], within=PH, difference=row[0], albumin_g_l=row[1],
                    phosphate_mmol_l=row[2], pco2_mmhg=row[3]) for row in SOLVED
        )),
        Part("Bicarbonate at that pH", "0.0301 × pCO₂ × 10^(pH − 6.1)", "mmol/L", _bicarbonate,
             tuple(
            example(row[5], difference=row[0], albumin_g_l=row[1], phosphate_mmol_l=row[2],
                    pco2_mmhg=row[3]) for row in SOLVED
        )),
    ),
)  # fmt: skip


def _after(figure: Callable[[Plasma], float]) -> Callable[..., float]:
    """A figure of plasma with a fluid mixed in."""

    def _work(*, fluid_l: float, fluid_difference: float) -> float:
        return figure(Plasma(39, 43, 1.2, 40).mixed(15, fluid_l, fluid_difference))

    return _work


def _bicarbonate_in(plasma: Plasma) -> float:
    return bicarbonate_of(solve_ph(plasma), plasma.pco2_mmhg)


# Fluid, its SID; SID, pH and bicarbonate of plasma after 2 L.
TWO_LITRES: Final = (
    ("0.9% sodium chloride", 0, 34.41, 7.3633, 22.08),
    ("lactated Ringer's", 27.7, 37.67, 7.4184, 25.06),
    ("multiple electrolytes type 1, all used", 50, 40.29, 7.4585, 27.48),
)

MIXED: Final = Formula(
    id="mixed-plasma",
    title="Plasma with a fluid mixed in",
    terms=(
        Term("fluid_l", "V", "L", "into 15 L outside cells with SID 39, albumin 43, phosphate "
             "1.2, pCO₂ 40"),
        Term("fluid_difference", "SID of the fluid", "mEq/L", "buffers used"),
    ),
    sources=(Source("follows from the charges at a pH; no publication", ""),),
    misleads=(
        "All of the fluid stays outside cells, its buffers are used at once, nothing is passed "
        "and no cell buffers: larger than a patient's change.",
    ),
    parts=(
        Part("SID after", "(15 × 39 + V × SID of the fluid) ÷ (15 + V); albumin and phosphate "
             "are thinned alike", "mEq/L",
             _after(lambda plasma: plasma.strong_ion_difference_meq_l),
             tuple(example(row[2], row[0], fluid_l=2, fluid_difference=row[1])
                   for row in TWO_LITRES)),
        Part("pH after", "the pH at which charges balance", "", _after(solve_ph),
             tuple(example(row[3], row[0], within=PH, fluid_l=2, fluid_difference=row[1])
                   for row in TWO_LITRES)),
        Part("Bicarbonate after", "0.0301 × pCO₂ × 10^(pH − 6.1)", "mmol/L",
             _after(_bicarbonate_in),
             tuple(example(row[4], row[0], fluid_l=2, fluid_difference=row[1])
                   for row in TWO_LITRES)),
    ),
)  # fmt: skip

GAP: Final = Formula(
    id="strong-ion-gap",
    title="Strong ion gap",
    terms=(
        Term("apparent_meq_l", "apparent", "mEq/L", "Na + K + 2 × Ca + 2 × Mg − Cl − lactate"),
        Term("filled_meq_l", "filled", "mEq/L", "bicarbonate + albumin + phosphate charges"),
    ),
    sources=(Source("Kellum, Kramer, Pinsky, J Crit Care 1995;10:51"),),
    misleads=(
        "Errors of seven results add up in it; a few mEq/L mean nothing.",
        "Ionised calcium and magnesium belong in it; totals read too high.",
    ),
    parts=(
        Part("", "apparent − filled", "mEq/L", strong_ion_gap_meq_l, (
            example(3.58, "Na 140, K 4, Ca 1.2, Mg 0.8, Cl 105, lactate 1 (apparent 42); the "
                    "first person of the charges above", apparent_meq_l=42, filled_meq_l=38.42),
        )),
    ),
)  # fmt: skip

SUBJECT: Final = Subject("Strong ions and weak acids", (DIFFERENCE, LOAD, CHARGES, MIXED, GAP))
