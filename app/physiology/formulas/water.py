"""Water: in a body, in a bag, lacking, where it goes, and where it is over time."""

from typing import Final

from app.chemistry.composition import Composition
from app.chemistry.water import electrolyte_free_water_edelman_l, electrolyte_free_water_l
from app.physiology.compartments import Spread, spread_crystalloid, watson_l
from app.physiology.formulas.formula import Formula, Part, Source, Subject, Term, example
from app.physiology.sodium import free_water_deficit_l

# The spread of a litre is told to a tenth of a millilitre.
ML_TENTHS: Final = 0.06
ML_PER_L: Final = 1000.0
# A share of a litre is told to a millilitre.
LITRE_THOUSANDTHS: Final = 0.0006

WATER: Final = Term("body_water_l", "body water", "L", "total body water")


def _man(*, age_years: float, height_cm: float, weight_kg: float) -> float:
    return watson_l(sex="male", age_years=age_years, height_cm=height_cm, weight_kg=weight_kg)


def _woman(*, height_cm: float, weight_kg: float) -> float:
    return watson_l(sex="female", age_years=0.0, height_cm=height_cm, weight_kg=weight_kg)


BODY_WATER: Final = Formula(
    id="body-water",
    title="Total body water",
    terms=(
        Term("age_years", "age", "years"),
        Term("height_cm", "height", "cm"),
        Term("weight_kg", "weight", "kg"),
    ),
    sources=(Source("Watson, Watson, Batt, Am J Clin Nutr 1980;33:27"),),
    misleads=(
        "Adults near normal hydration; it reads oedema too low.",
        "In severe obesity a fixed share of weight reads far too high; this form does better.",
        "Infants hold 0.7 to 0.8 L/kg.",
    ),
    parts=(
        Part("Men", "2.447 − 0.09516 × age + 0.1074 × height + 0.3362 × weight", "L", _man, (
            example(40.97, age_years=40, height_cm=175, weight_kg=70),
            example(40.94, age_years=70, height_cm=170, weight_kg=80),
        )),
        Part("Women", "−2.097 + 0.1069 × height + 0.2466 × weight", "L", _woman, (
            example(30.34, height_cm=165, weight_kg=60),
            example(26.80, height_cm=155, weight_kg=50),
        )),
    ),
)  # fmt: skip


def _bag(sodium_mmol_l: float, potassium_mmol_l: float) -> Composition:
    return Composition(sodium_mmol_l=sodium_mmol_l, potassium_mmol_l=potassium_mmol_l)


def _free_water(
    *, sodium_mmol_l: float, potassium_mmol_l: float, volume_l: float, plasma_sodium_mmol_l: float
) -> float:
    bag = _bag(sodium_mmol_l, potassium_mmol_l)
    return electrolyte_free_water_l(bag, volume_l, plasma_sodium_mmol_l)


def _free_water_edelman(
    *, sodium_mmol_l: float, potassium_mmol_l: float, volume_l: float, plasma_sodium_mmol_l: float
) -> float:
    bag = _bag(sodium_mmol_l, potassium_mmol_l)
    return electrolyte_free_water_edelman_l(bag, volume_l, plasma_sodium_mmol_l)


# Case, sodium, potassium, and a litre's free water by each form.
BAGS: Final[tuple[tuple[str, float, float, tuple[float, float]], ...]] = (
    ("5% dextrose in 0.45% sodium chloride", 77, 0, (0.450, 0.516)),
    ("0.45% sodium chloride with potassium 20", 77, 20, (0.307, 0.390)),
    ("lactated Ringer's", 130, 4, (0.043, 0.157)),
    ("5% dextrose", 0, 0, (1, 1)),
    ("3% sodium chloride", 513, 0, (-2.664, -2.226)),
)

FREE_WATER: Final = Formula(
    id="electrolyte-free-water",
    title="Electrolyte-free water of a fluid",
    terms=(
        Term("volume_l", "V", "L", "volume of the fluid"),
        Term("sodium_mmol_l", "Na", "mmol/L", "sodium of the fluid"),
        Term("potassium_mmol_l", "K", "mmol/L", "potassium of the fluid"),
        Term("plasma_sodium_mmol_l", "plasma Na", "mmol/L"),
    ),
    sources=(
        Source("Rose, Am J Med 1986;81:1033"),
        Source("Nguyen and Kurtz, Am J Physiol Renal 2005;288:F1", "abstract seen"),
    ),
    misleads=(
        "Says nothing of urine: count what goes in and what goes out.",
        "Below zero means that the fluid takes water from cells.",
        "The two forms differ by about a tenth of a litre in a balanced fluid; say which.",
    ),
    parts=tuple(
        Part(name, expression, "L", work, tuple(
            example(
                bag[3][column], bag[0], within=LITRE_THOUSANDTHS, volume_l=1, sodium_mmol_l=bag[1],
                potassium_mmol_l=bag[2], plasma_sodium_mmol_l=140,
            )
            for bag in BAGS
        ))
        for name, expression, work, column in (
            ("Simple form", "V × (1 − (Na + K) ÷ plasma Na)", _free_water, 0),
            ("By Edelman's line", "V × (1 − 1.03 × (Na + K) ÷ (plasma Na + 23.8))",
             _free_water_edelman, 1),
        )
    ),
)  # fmt: skip

DEFICIT: Final = Formula(
    id="water-deficit",
    title="Free water deficit",
    terms=(WATER, Term("sodium_mmol_l", "Na", "mmol/L", "plasma sodium now")),
    sources=(Source("textbook form"),),
    misleads=(
        "The deficit of one moment: add what is still being lost.",
        "It says nothing of salt lacking besides, nor of how fast sodium may fall.",
    ),
    parts=(
        Part("", "water deficit = body water × (Na ÷ 140 − 1)", "L", free_water_deficit_l, (
            example(6.000, "man of 70 kg", body_water_l=42, sodium_mmol_l=160),
            example(3.214, "woman of 60 kg", body_water_l=30, sodium_mmol_l=155),
            example(6.800, "68 kg, half of it water", body_water_l=34, sodium_mmol_l=168),
        )),
    ),
)  # fmt: skip


def _spread(volume_l: float, free_water: float) -> Spread:
    return spread_crystalloid(volume_l, volume_l * free_water)


def _plasma_ml(*, volume_l: float, free_water: float) -> float:
    return _spread(volume_l, free_water).plasma_l * ML_PER_L


def _interstitium_ml(*, volume_l: float, free_water: float) -> float:
    return _spread(volume_l, free_water).interstitial_l * ML_PER_L


def _cells_ml(*, volume_l: float, free_water: float) -> float:
    return _spread(volume_l, free_water).cells_l * ML_PER_L


# Case, share of free water, and mL in plasma, interstitium and cells.
LITRES: Final[tuple[tuple[str, float, tuple[float, float, float]], ...]] = (
    ("0.9% sodium chloride", 0, (250, 750, 0)),
    ("5% dextrose", 1, (83.3, 250, 666.7)),
    ("0.45% sodium chloride", 0.5, (166.7, 500, 333.3)),
    ("lactated Ringer's at a sodium of 140", 0.0429, (242.8, 728.6, 28.6)),
)

COMPARTMENTS: Final = Formula(
    id="compartments",
    title="Where a litre goes, by the textbook's shares",
    terms=(
        Term("volume_l", "V", "L"),
        Term("free_water", "free", "", "its share of electrolyte-free water, simple form"),
    ),
    sources=(Source("textbook shares: cells two thirds of body water, plasma a quarter of the "
                    "rest; some take a fifth"),),
    misleads=(
        "At rest, long after: half or more is still in plasma for 20 to 30 min after a fast "
        "infusion, and more in lost volume or anaesthesia.",
        "Colloids that hold water as plasma does are put in plasma whole at first (a litre of 5% "
        "albumin: 1,000 mL). Trials found crystalloid to colloid near 1.3 to 1.5, not 3 to 4 "
        "(from memory).",
        "The textbook counts 0.45% sodium chloride as half of 0.9%, which is taken for plasma.",
    ),
    parts=tuple(
        Part(name, expression, "mL", work, tuple(
            example(litre[2][column], litre[0], within=ML_TENTHS, volume_l=1, free_water=litre[1])
            for litre in LITRES
        ))
        for name, expression, work, column in (
            ("Plasma", "V × (1 − 2/3 × free) × 1/4", _plasma_ml, 0),
            ("Interstitium", "V × (1 − 2/3 × free) × 3/4", _interstitium_ml, 1),
            ("Cells", "V × 2/3 × free", _cells_ml, 2),
        )
    ),
)  # fmt: skip

SUBJECT: Final = Subject("Water", (BODY_WATER, FREE_WATER, DEFICIT, COMPARTMENTS))
