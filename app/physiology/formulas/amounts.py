"""Amounts of salts by weight, charge and particle, how strong a solution is, and citrate."""

from typing import Final

from app.chemistry.citrate import citrate_mmol, citrate_mmol_l, fluid_to_ratio_l
from app.chemistry.composition import Composition
from app.chemistry.mixing import mixed, mixed_osmolarity_mosm_l
from app.chemistry.salts import salt_mg_from_mmol, salt_mmol_from_g
from app.chemistry.units import meq_from_mmol, mmol_from_meq
from app.physiology.formulas.formula import Formula, Given, Part, Source, Subject, Term, example
from app.physiology.sodium import plasma_osmolality_mosm_kg

# Labels print a strong ion's litre to a whole number, or to one decimal.
WHOLE: Final = 0.5
TENTHS: Final = 0.05

CONVERSION: Final = Formula(
    id="amounts",
    title="Grams, millimoles and milliequivalents",
    terms=(
        Term("salt_key", "salt", "", "with its water of crystallisation"),
        Term("key", "ion"),
        Term("grams", "weight", "g"),
        Term("mmol", "amount", "mmol"),
        Term("meq", "charge", "mEq"),
    ),
    sources=(
        Source("molar masses: IUPAC atomic weights, checked against a chemistry library", ""),
        Source("US labels of the fluids and salts named", "labels seen"),
    ),
    misleads=(
        "“5% dextrose” is 50 g/L of the monohydrate on US labels (252 mmol/L), and 5% glucose is "
        "50 g/L anhydrous in the UK (278 mmol/L). Never assume which.",
        "A gram of a salt is not a gram of its ion, and water of crystallisation counts.",
        "Phosphate has no fixed charge, so no fixed mEq.",
    ),
    parts=(
        Part("Millimoles in grams", "weight × 1000 ÷ molar mass", "mmol", salt_mmol_from_g, (
            example(154, "0.9% sodium chloride, a litre", origin="label", within=WHOLE,
                    salt_key="sodium_chloride", grams=9),
            example(1.360, "calcium in a litre of lactated Ringer's", salt_key="calcium_chloride",
                    grams=0.20),
            example(8.115, "2 g of magnesium sulfate", salt_key="magnesium_sulfate", grams=2),
            example(1, "84 mg", origin="label", salt_key="sodium_bicarbonate", grams=0.084),
            example(252.3, "5% dextrose, US", salt_key="glucose_monohydrate", grams=50),
            example(277.5, "5% glucose, UK", salt_key="glucose", grams=50),
        )),
        Part("Milligrams in millimoles", "amount × molar mass", "mg", salt_mg_from_mmol, (
            example(1491, "label: 1.49 to 1.5 g", salt_key="potassium_chloride", mmol=20),
        )),
        Part("Milliequivalents in millimoles", "amount × charges of the ion", "mEq",
             meq_from_mmol, (
            example(2.721, "calcium of lactated Ringer's; label 2.7", key="calcium", mmol=1.3605),
            example(16.23, "2 g of magnesium sulfate", key="magnesium", mmol=8.115),
        )),
        Part("Millimoles in milliequivalents", "charge ÷ charges of the ion", "mmol",
             mmol_from_meq, (
            example(0.2325, "calcium gluconate 10%, 1 mL; label 0.465 mEq", key="calcium",
                    meq=0.465),
            example(2.325, "10 mL of it", key="calcium", meq=4.65),
        )),
    ),
)  # fmt: skip


def _litre(  # noqa: PLR0913 - one for each thing dissolved
    *,
    sodium: float,
    potassium: float,
    calcium: float,
    chloride: float,
    lactate: float = 0.0,
    dextrose: float = 0.0,
) -> Composition:
    return Composition(
        sodium_mmol_l=sodium,
        potassium_mmol_l=potassium,
        calcium_mmol_l=calcium,
        chloride_mmol_l=chloride,
        lactate_mmol_l=lactate,
        glucose_g_l=dextrose,
        glucose_monohydrate=True,
    )


def _osmolarity(**amounts: float) -> float:
    return _litre(**amounts).osmolarity_mosm_l or 0.0


def _tonicity(**amounts: float) -> float:
    return _litre(**amounts).tonicity_mosm_l or 0.0


RINGERS: Final[Given] = {
    "sodium": 130,
    "potassium": 4,
    "calcium": 1.35,
    "chloride": 109,
    "lactate": 28,
}
HALF_SALINE: Final[Given] = {"sodium": 77, "potassium": 0, "calcium": 0, "chloride": 77}
WITH_POTASSIUM: Final[Given] = {**RINGERS, "potassium": 24, "chloride": 129, "dextrose": 50}

STRENGTH: Final = Formula(
    id="osmolarity",
    title="Osmolarity and tonicity of a fluid",
    terms=(
        *(Term(key, symbol, "mmol/L") for key, symbol in
          (("sodium", "Na"), ("potassium", "K"), ("calcium", "Ca"), ("chloride", "Cl"),
           ("lactate", "lactate"))),
        Term("dextrose", "dextrose", "g/L", "glucose monohydrate, 198.17 g/mol"),
    ),
    sources=(
        Source("label practice: “calc.” on US labels", "labels seen"),
        Source("salts come apart incompletely: 0.9% sodium chloride has about 286 mOsm/kg"),
    ),
    misleads=(
        "Judge a bag by its tonicity: cells take sugar up, so 5% dextrose is water to a patient.",
        "Measured osmolality is about 0.93 of the calculated figure in 0.9% sodium chloride.",
        "Lactate, acetate and gluconate still count once used, since bicarbonate takes their "
        "place.",
    ),
    parts=(
        Part("Osmolarity", "every dissolved particle, added up", "mOsm/L", _osmolarity, (
            example(272.4, "lactated Ringer's; label 273", **RINGERS),
            example(406.3, "5% dextrose in 0.45% sodium chloride; label 406", dextrose=50,
                    **HALF_SALINE),
            example(524.7, "5% dextrose in lactated Ringer's; label 525", dextrose=50, **RINGERS),
            example(564.7, "the same with potassium chloride 20; label 565", **WITH_POTASSIUM),
        )),
        Part("Tonicity", "osmolarity without glucose", "mOsm/L", _tonicity, (
            example(154, "5% dextrose in 0.45% sodium chloride", dextrose=50, **HALF_SALINE),
            example(272.4, "5% dextrose in lactated Ringer's", dextrose=50, **RINGERS),
        )),
    ),
)  # fmt: skip

PLASMA: Final = Formula(
    id="plasma-osmolality",
    title="Osmolality of plasma, calculated",
    terms=(
        Term("sodium_mmol_l", "Na", "mmol/L"),
        Term("urea_mmol_l", "urea", "mmol/L"),
        Term("glucose_mmol_l", "glucose", "mmol/L"),
    ),
    sources=(Source("textbook form; there are several that differ by a few mosm/kg"),),
    misleads=(
        "Measured minus calculated above 10 to 20 says that something else is dissolved: alcohol, "
        "mannitol, contrast.",
        "Urea crosses cell walls: the effective figure leaves it out.",
    ),
    parts=(
        Part("", "2 × Na + urea + glucose", "mosm/kg", plasma_osmolality_mosm_kg, (
            example(290, sodium_mmol_l=140, urea_mmol_l=5, glucose_mmol_l=5),
            example(320, sodium_mmol_l=130, urea_mmol_l=20, glucose_mmol_l=40),
        )),
        Part("Effective", "2 × Na + glucose", "mosm/kg", plasma_osmolality_mosm_kg, (
            example(300, sodium_mmol_l=130, glucose_mmol_l=40),
        )),
    ),
)  # fmt: skip


def _mixed(*, bag_l: float, bag_mosm_l: float, added_l: float, added_mosm_l: float) -> float:
    return mixed_osmolarity_mosm_l(((bag_l, bag_mosm_l), (added_l, added_mosm_l)))


def _ion_after(*, bag_l: float, added_l: float, added_mmol_l: float) -> float:
    added = Composition(sodium_mmol_l=added_mmol_l)
    return mixed(Composition(), bag_l, added, added_l).sodium_mmol_l


MIXTURE: Final = Formula(
    id="osmolarity-mix",
    title="Strength of a bag after an additive",
    terms=(
        Term("bag_l", "V", "L", "the bag"),
        Term("bag_mosm_l", "bag", "mOsm/L"),
        Term("added_l", "v", "L", "the additive"),
        Term("added_mosm_l", "additive", "mOsm/L"),
        Term("added_mmol_l", "ion", "mmol/L", "in the additive"),
    ),
    sources=(Source("volumes weighed by strength; no publication", ""),),
    misleads=(
        "Bags hold 3 to 10% more than they say, so the figure is an estimate.",
        "Limits for a peripheral vein differ: 900 mOsm/L on a US label (seen), damage possible "
        "from 600 (seen).",
    ),
    parts=(
        Part("Osmolarity", "(V × bag + v × additive) ÷ (V + v)", "mOsm/L", _mixed, (
            example(309.9, "lactated Ringer's + potassium chloride 20 mmol in 10 mL", bag_l=1,
                    bag_mosm_l=273, added_l=0.010, added_mosm_l=4000),
            example(476.5, "5% dextrose in 0.45% sodium chloride + 40 mmol in 20 mL", bag_l=1,
                    bag_mosm_l=406, added_l=0.020, added_mosm_l=4000),
            example(480.0, "5% dextrose + 150 mL of 8.4% sodium bicarbonate", bag_l=1,
                    bag_mosm_l=252, added_l=0.150, added_mosm_l=2000),
            example(483.8, "0.9% sodium chloride + 100 mmol in 50 mL", bag_l=1, bag_mosm_l=308,
                    added_l=0.050, added_mosm_l=4000),
        )),
        Part("An ion that only the additive holds", "v × ion ÷ (V + v)", "mmol/L", _ion_after, (
            example(130.4, "sodium, 150 mL of 8.4% bicarbonate in a litre", bag_l=1,
                    added_l=0.150, added_mmol_l=1000),
            example(95.24, "potassium, 100 mmol in 50 mL in a litre", bag_l=1, added_l=0.050,
                    added_mmol_l=2000),
        )),
    ),
)  # fmt: skip

CALCIUM: Final = Term("calcium_mmol_l", "calcium", "mmol/L", "in the fluid that meets the blood")

ANTICOAGULANT: Final = Formula(
    id="citrate",
    title="Citrate of a donation, and the fluid that brings it down to a ratio",
    terms=(
        Term("sodium_citrate_g_l", "sodium citrate", "g/L", "trisodium citrate dihydrate"),
        Term("citric_acid_g_l", "citric acid", "g/L", "anhydrous"),
        Term("citrate_mmol_l", "strength", "mmol/L"),
        Term("volume_ml", "anticoagulant", "mL"),
        Term("citrate_mmol", "citrate", "mmol"),
        Term("ratio", "ratio", "", "citrate to calcium, by moles"),
        CALCIUM,
    ),
    sources=(
        Source("citrate phosphate dextrose: compendial formula, 63 mL a donation"),
        Source("clots within 5 min at a ratio of 4 or under: Ryden and Oberman, Transfusion "
               "1975;15:250", "abstract seen"),
    ),
    misleads=(
        "Packed cells keep only part of the citrate, so that less fluid with calcium is enough "
        "to clot them: little citrate makes the line more exposed, not less.",
        "The ratio is of a tube on a bench; a line that stands still may differ either way.",
    ),
    parts=(
        Part("Citrate of the anticoagulant",
             "(sodium citrate ÷ 294.10 + citric acid ÷ 192.12) × 1000", "mmol/L", citrate_mmol_l,
             (example(105.0, sodium_citrate_g_l=26.3, citric_acid_g_l=2.99),)),
        Part("Citrate in a donation", "anticoagulant × strength ÷ 1000", "mmol", citrate_mmol,
             (example(6.614, volume_ml=63, citrate_mmol_l=105.0),)),
        Part("Fluid to the ratio", "citrate ÷ ratio ÷ calcium", "L", fluid_to_ratio_l, (
            example(1.225, "all of it left, lactated Ringer's", citrate_mmol=6.614, ratio=4,
                    calcium_mmol_l=1.35),
            example(0.245, "a fifth left", citrate_mmol=1.3228, ratio=4, calcium_mmol_l=1.35),
        )),
    ),
)  # fmt: skip

SUBJECT: Final = Subject(
    "Amounts and osmolarity", (CONVERSION, STRENGTH, PLASMA, MIXTURE, ANTICOAGULANT)
)
