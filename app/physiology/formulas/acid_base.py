"""Acid and base from a blood gas: pH, gap, base excess, expected carbon dioxide."""

from typing import Final

from app.physiology.acid_base import (
    MMHG_PER_KPA,
    anion_gap_mmol_l,
    expected_pco2_acidosis_mmhg,
    expected_pco2_alkalosis_mmhg,
    gap_for_albumin_mmol_l,
    laboratory_base_excess_mmol_l,
    ph_of,
    standard_base_excess_mmol_l,
)
from app.physiology.formulas.formula import PH, Formula, Part, Source, Subject, Term, example

BICARBONATE: Final = Term("bicarbonate_mmol_l", "bicarbonate", "mmol/L")
# Base excess is told to a hundredth.
HUNDREDTHS: Final = 0.0055
KPA: Final = 0.005
OTHER_SOLUBILITY: Final = 0.0307


def _ph_kpa(*, bicarbonate_mmol_l: float, pco2_kpa: float) -> float:
    return ph_of(bicarbonate_mmol_l, pco2_kpa * MMHG_PER_KPA)


def _ph_other(*, bicarbonate_mmol_l: float, pco2_mmhg: float) -> float:
    return ph_of(bicarbonate_mmol_l, pco2_mmhg, solubility=OTHER_SOLUBILITY)


PH_OF_GAS: Final = Formula(
    id="ph",
    title="pH from bicarbonate and carbon dioxide",
    terms=(
        BICARBONATE,
        Term("pco2_mmhg", "pCO₂", "mmHg"),
        Term("pco2_kpa", "pCO₂", "kPa", "1 kPa is 7.50062 mmHg"),
    ),
    sources=(Source("Henderson and Hasselbalch, textbook form"),),
    misleads=(
        "Many analysers take 0.0307 for 0.0301 and read pH lower by 0.009: state the constant.",
        "A bicarbonate of another moment does not belong with this gas.",
    ),
    parts=(
        Part("mmHg", "6.1 + log₁₀(bicarbonate ÷ (0.0301 × pCO₂))", "", ph_of, (
            example(7.400, within=PH, bicarbonate_mmol_l=24, pco2_mmhg=40),
            example(7.320, within=PH, bicarbonate_mmol_l=15, pco2_mmhg=30),
            example(7.496, within=PH, bicarbonate_mmol_l=36, pco2_mmhg=48),
        )),
        Part("kPa", "6.1 + log₁₀(bicarbonate ÷ (0.2258 × pCO₂))", "", _ph_kpa, (
            example(7.400, within=PH, bicarbonate_mmol_l=24, pco2_kpa=5.333),
        )),
        Part("With 0.0307", "6.1 + log₁₀(bicarbonate ÷ (0.0307 × pCO₂))", "", _ph_other, (
            example(7.391, within=PH, bicarbonate_mmol_l=24, pco2_mmhg=40),
        )),
    ),
)  # fmt: skip

GAP: Final = Formula(
    id="anion-gap",
    title="Anion gap, and as it would be were albumin normal",
    terms=(
        Term("sodium", "Na", "mmol/L"),
        Term("chloride", "Cl", "mmol/L"),
        Term("bicarbonate", "bicarbonate", "mmol/L"),
        Term("gap_mmol_l", "gap", "mmol/L"),
        Term("albumin_g_l", "albumin", "g/L"),
        Term("reference_g_l", "normal albumin", "g/L", "40 in practice, 44 in the paper"),
    ),
    sources=(
        Source("Figge, Jabor, Kazda, Fencl, Crit Care Med 1998;26:1807"),
    ),
    misleads=(
        "What is normal differs between laboratories by several mmol/L: use one's own.",
        "A low albumin hides a gap; the reference taken moves the answer by 1.",
        "Potassium is left out here; some laboratories put it in.",
    ),
    parts=(
        Part("Gap", "Na − Cl − bicarbonate", "mmol/L", anion_gap_mmol_l, (
            example(12, sodium=140, chloride=104, bicarbonate=24),
            example(20, sodium=138, chloride=100, bicarbonate=18),
            example(16, sodium=150, chloride=120, bicarbonate=14),
        )),
        Part("For albumin", "gap + 0.25 × (normal albumin − albumin)", "mmol/L",
             gap_for_albumin_mmol_l, (
            example(25.0, gap_mmol_l=20, albumin_g_l=20, reference_g_l=40),
            example(26.0, "the paper's own reference", gap_mmol_l=20, albumin_g_l=20,
                    reference_g_l=44),
            example(19.75, gap_mmol_l=16, albumin_g_l=25, reference_g_l=40),
        )),
    ),
)  # fmt: skip

# Bicarbonate, pH, and base excess by each form.
GASES: Final = (
    (24.4, 7.40, 0.0, -0.40),
    (15, 7.25, -10.81, -12.23),
    (10, 7.10, -17.52, -19.66),
    (36, 7.50, 12.16, 12.82),
)

BASE_EXCESS: Final = Formula(
    id="base-excess",
    title="Standard base excess",
    terms=(BICARBONATE, Term("ph", "pH")),
    sources=(
        Source("Siggaard-Andersen's form with haemoglobin fixed for fluid outside cells"),
        Source("laboratory standard CLSI C46"),
    ),
    misleads=("The two forms differ by up to 2 mmol/L in deep acidosis: state which is used.",),
    parts=(
        Part("Used here", "0.93 × (bicarbonate − 24.4 + 14.8 × (pH − 7.40))", "mmol/L",
             standard_base_excess_mmol_l, tuple(
            example(row[2], within=HUNDREDTHS, bicarbonate_mmol_l=row[0], ph=row[1])
            for row in GASES
        )),
        Part("As many laboratories report it", "bicarbonate − 24.8 + 16.2 × (pH − 7.40)",
             "mmol/L", laboratory_base_excess_mmol_l, tuple(
            example(row[3], within=HUNDREDTHS, bicarbonate_mmol_l=row[0], ph=row[1])
            for row in GASES
        )),
    ),
)  # fmt: skip


def _expected_kpa(*, bicarbonate_mmol_l: float) -> float:
    return expected_pco2_acidosis_mmhg(bicarbonate_mmol_l) / MMHG_PER_KPA


EXPECTED: Final = Formula(
    id="expected-carbon-dioxide",
    title="Carbon dioxide expected in a metabolic disorder",
    terms=(BICARBONATE,),
    sources=(
        Source("acidosis: Albert, Dell, Winters, Ann Intern Med 1967;66:312"),
        Source("alkalosis: textbook form"),
    ),
    misleads=(
        "At rest after some 12 h; breathing lags behind a fresh disorder.",
        "Far from it means a second, respiratory disorder, or that the two are not of one moment.",
    ),
    parts=(
        Part("Acidosis, give or take 2 mmHg", "1.5 × bicarbonate + 8", "mmHg",
             expected_pco2_acidosis_mmhg, (
            example(26, "24 to 28", bicarbonate_mmol_l=12), example(35, bicarbonate_mmol_l=18),
        )),
        Part("The same in kPa", "(1.5 × bicarbonate + 8) ÷ 7.50062", "kPa", _expected_kpa, (
            example(3.47, within=KPA, bicarbonate_mmol_l=12),
        )),
        Part("Alkalosis, give or take 5 mmHg", "0.7 × (bicarbonate − 24) + 40", "mmHg",
             expected_pco2_alkalosis_mmhg, (example(48.4, bicarbonate_mmol_l=36),)),
    ),
)  # fmt: skip

SUBJECT: Final = Subject("Acid and base from a gas", (PH_OF_GAS, GAP, BASE_EXCESS, EXPECTED))
