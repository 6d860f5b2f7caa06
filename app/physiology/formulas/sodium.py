"""Sodium: change by a volume, by a balance, for glucose, and deficits."""

from typing import Final

from app.physiology.formulas.formula import Formula, Given, Part, Source, Subject, Term, example
from app.physiology.sodium import (
    HILLIER_MMOL_L_PER_STEP,
    KATZ_MMOL_L_PER_STEP,
    exchangeable_per_litre_mmol_l,
    sodium_after_balance_mmol_l,
    sodium_change_mmol_l,
    sodium_deficit_mmol,
    sodium_for_glucose_mmol_l,
    volume_for_change_l,
)

# Half of the last digit that a paper prints.
TENTHS: Final = 0.05
HUNDREDTHS: Final = 0.005

SODIUM: Final = Term("sodium_mmol_l", "Na", "mmol/L", "plasma sodium before")
WATER: Final = Term("body_water_l", "body water", "L", "total body water before")
FLUID: Final = Term(
    "infusate_mmol_l", "salt", "mmol/L", "sodium plus potassium in a litre of the fluid"
)
VOLUME: Final = Term("volume_l", "V", "L", "volume given")
CHANGE: Final = Term("change_mmol_l", "ΔNa", "mmol/L", "change of plasma sodium")

WOMAN_46: Final[Given] = {"infusate_mmol_l": 513, "sodium_mmol_l": 112, "body_water_l": 23}
MAN_60: Final[Given] = {"infusate_mmol_l": 513, "sodium_mmol_l": 108, "body_water_l": 36}
MAN_68: Final[Given] = {"infusate_mmol_l": 0, "sodium_mmol_l": 168, "body_water_l": 34}


def _volume_by_one_litre(
    *, change_mmol_l: float, infusate_mmol_l: float, sodium_mmol_l: float, body_water_l: float
) -> float:
    """The volume as the paper has it: the change wanted over the change by one litre, L."""
    return change_mmol_l / sodium_change_mmol_l(
        infusate_mmol_l=infusate_mmol_l,
        volume_l=1,
        sodium_mmol_l=sodium_mmol_l,
        body_water_l=body_water_l,
    )


CHANGE_BY_VOLUME: Final = Formula(
    id="sodium-change",
    title="Change of sodium by a volume of fluid",
    terms=(CHANGE, VOLUME, FLUID, SODIUM, WATER),
    sources=(
        Source("Adrogué and Madias, N Engl J Med 2000;342:1581 (low) and 342:1493 (high sodium)"),
        Source("Any volume, not the litre's answer scaled: PMC8740981", "abstract seen"),
    ),
    misleads=(
        "Urine and every other loss is left out; real correction often overtakes it once a low "
        "sodium starts to correct itself. Measure, do not trust.",
        "Scaling the answer for a litre to other volumes is wrong by up to a tenth and more.",
        "Glucose that moves water between cells and plasma is left out.",
    ),
    parts=(
        Part(
            "By any volume",
            "ΔNa = V × (salt − Na) ÷ (body water + V)",
            "mmol/L",
            sodium_change_mmol_l,
            (
                example(16.7, "woman of 46 kg, 3% sodium chloride", within=TENTHS,
                        origin="published", volume_l=1, **WOMAN_46),
                example(10.9, "man of 60 kg, 3% sodium chloride", within=TENTHS,
                        origin="published", volume_l=1, **MAN_60),
                example(2.8, "woman of 60 kg, 0.9% sodium chloride with potassium 30 mmol/L",
                        within=TENTHS, origin="published", volume_l=1, infusate_mmol_l=184,
                        sodium_mmol_l=106, body_water_l=27),
                example(-4.8, "man of 68 kg, 5% dextrose", within=TENTHS, origin="published",
                        volume_l=1, **MAN_68),
                example(-3.8, "5% dextrose in 0.2% sodium chloride", within=TENTHS,
                        origin="published", volume_l=1, infusate_mmol_l=34, sodium_mmol_l=158,
                        body_water_l=31.5),
                example(-3.0, "man, 5% dextrose", within=TENTHS, origin="published", volume_l=1,
                        infusate_mmol_l=0, sodium_mmol_l=156, body_water_l=51),
                example(3.114, "the woman of 46 kg; a litre's answer scaled would say 3.008",
                        volume_l=0.18, **WOMAN_46),
                example(-9.773, "the man of 68 kg; a litre's answer scaled would say −10.08",
                        volume_l=2.1, **MAN_68),
            ),
        ),
        Part(
            "Volume for a change, exact",
            "V = ΔNa × body water ÷ (salt − Na − ΔNa)",
            "L",
            volume_for_change_l,
            (
                example(0.1734, "woman of 46 kg, up by 3", change_mmol_l=3, **WOMAN_46),
                example(0.4500, "man of 60 kg, up by 5", change_mmol_l=5, **MAN_60),
                example(2.152, "man of 68 kg, down by 10", change_mmol_l=-10, **MAN_68),
            ),
        ),
        Part(
            "Volume for a change, as the papers reckon it",
            "V = ΔNa ÷ change by one litre",
            "L",
            _volume_by_one_litre,
            (
                example(0.18, "woman of 46 kg, up by 3 in 3 h: 60 mL/h", within=HUNDREDTHS,
                        origin="published", change_mmol_l=3, **WOMAN_46),
                example(0.46, "man of 60 kg, up by 5 in 12 h: 38 mL/h", within=HUNDREDTHS,
                        origin="published", change_mmol_l=5, **MAN_60),
                example(2.1, "man of 68 kg, down by 10", within=TENTHS, origin="published",
                        change_mmol_l=-10, **MAN_68),
            ),
        ),
    ),
)  # fmt: skip


def _change_by_balance(
    *, sodium_mmol_l: float, body_water_l: float, salt_gain_mmol: float, water_gain_l: float
) -> float:
    after = sodium_after_balance_mmol_l(
        sodium_mmol_l=sodium_mmol_l,
        body_water_l=body_water_l,
        salt_gain_mmol=salt_gain_mmol,
        water_gain_l=water_gain_l,
    )
    return after - sodium_mmol_l


CHANGE_BY_BALANCE: Final = Formula(
    id="sodium-balance",
    title="Sodium after a balance of salt and water",
    terms=(
        Term("sodium_mmol_l", "Na", "mmol/L", "plasma sodium before"),
        WATER,
        Term("salt_gain_mmol", "salt gained", "mmol", "sodium plus potassium in minus out"),
        Term("water_gain_l", "water gained", "L", "water in minus out"),
    ),
    sources=(
        Source("Edelman et al., J Clin Invest 1958;37:1236", "quoted in an abstract, seen"),
        Source("Nguyen and Kurtz, Clin Exp Nephrol 2003;7:125; J Appl Physiol 2006;100:1293"),
        Source("1.03 and 23.8: Am J Physiol Renal 2005;288:F1", "abstract seen"),
    ),
    misleads=(
        "It is only as good as the losses put in: urine's sodium and potassium must be measured.",
        "The line was drawn through about a hundred people, most of them ill (from memory).",
    ),
    parts=(
        Part(
            "Change",
            "ΔNa = [(Na + 23.8) × body water + 1.03 × salt gained] ÷ (body water + water gained) "
            "− 23.8 − Na",
            "mmol/L",
            _change_by_balance,
            (
                example(3.049, "0.18 L of 3% sodium chloride", sodium_mmol_l=112, body_water_l=23,
                        salt_gain_mmol=92.34, water_gain_l=0.18),
                example(16.36, "1 L of 3% sodium chloride", sodium_mmol_l=112, body_water_l=23,
                        salt_gain_mmol=513, water_gain_l=1),
                example(-5.480, "1 L of water", sodium_mmol_l=168, body_water_l=34,
                        salt_gain_mmol=0, water_gain_l=1),
                example(-0.2355, "2 L of 0.9% sodium chloride, all kept", sodium_mmol_l=140,
                        body_water_l=42, salt_gain_mmol=308, water_gain_l=2),
                example(-7.445, "2 L of water", sodium_mmol_l=140, body_water_l=42,
                        salt_gain_mmol=0, water_gain_l=2),
            ),
        ),
        Part(
            "Sodium after, with urine counted",
            "Na after = [(Na + 23.8) × body water + 1.03 × salt gained] ÷ "
            "(body water + water gained) − 23.8",
            "mmol/L",
            sodium_after_balance_mmol_l,
            (
                example(116.97, "0.18 L of 3% sodium chloride in (92.34 mmol), 0.5 L of urine out "
                        "with 50 mmol/L (25 mmol)", sodium_mmol_l=112, body_water_l=23,
                        salt_gain_mmol=67.34, water_gain_l=-0.32),
            ),
        ),
        Part(
            "Exchangeable salt behind a sodium",
            "exchangeable sodium and potassium ÷ body water = (Na + 23.8) ÷ 1.03",
            "mmol/L",
            exchangeable_per_litre_mmol_l,
            (example(159.0, sodium_mmol_l=140),),
        ),
    ),
)  # fmt: skip


def _by_katz(*, sodium_mmol_l: float, glucose_mmol_l: float) -> float:
    return sodium_for_glucose_mmol_l(sodium_mmol_l, glucose_mmol_l, KATZ_MMOL_L_PER_STEP)


def _by_hillier(*, sodium_mmol_l: float, glucose_mmol_l: float) -> float:
    return sodium_for_glucose_mmol_l(sodium_mmol_l, glucose_mmol_l, HILLIER_MMOL_L_PER_STEP)


FOR_GLUCOSE: Final = Formula(
    id="sodium-for-glucose",
    title="Sodium were glucose normal",
    terms=(
        Term("sodium_mmol_l", "Na", "mmol/L", "plasma sodium as measured"),
        Term("glucose_mmol_l", "glucose", "mmol/L", "5.55 mmol/L is 100 mg/dL"),
    ),
    sources=(
        Source("Katz, N Engl J Med 1973;289:843 (1.6)"),
        Source("Hillier, Abbott, Barrett, Am J Med 1999;106:399 (2.4)"),
    ),
    misleads=(
        "Show both: the true factor lies between, and rises with glucose.",
        "Never used for osmolality: the measured sodium counts there.",
    ),
    parts=(
        Part("By 1.6 a step", "Na + 1.6 × (glucose − 5.55) ÷ 5.55", "mmol/L", _by_katz, (
            example(136.4, "glucose 500 mg/dL", sodium_mmol_l=130, glucose_mmol_l=27.75),
            example(137.9, sodium_mmol_l=128, glucose_mmol_l=40),
        )),
        Part("By 2.4 a step", "Na + 2.4 × (glucose − 5.55) ÷ 5.55", "mmol/L", _by_hillier, (
            example(139.6, "glucose 500 mg/dL", sodium_mmol_l=130, glucose_mmol_l=27.75),
            example(142.9, sodium_mmol_l=128, glucose_mmol_l=40),
        )),
    ),
)  # fmt: skip

DEFICIT: Final = Formula(
    id="sodium-deficit",
    title="Sodium deficit",
    terms=(
        Term("sodium_mmol_l", "Na", "mmol/L", "plasma sodium now"),
        Term("target_mmol_l", "target", "mmol/L", "plasma sodium aimed at"),
        WATER,
    ),
    sources=(Source("textbook form"),),
    misleads=(
        "The deficit of one moment: add what is still being lost.",
        "No dose for a day: how fast sodium may rise is another question, with its own limits.",
    ),
    parts=(
        Part("", "sodium deficit = body water × (target − Na)", "mmol", sodium_deficit_mmol, (
            example(420, "man of 70 kg", body_water_l=42, sodium_mmol_l=115, target_mmol_l=125),
            example(360, "woman of 60 kg", body_water_l=30, sodium_mmol_l=118, target_mmol_l=130),
        )),
    ),
)  # fmt: skip

SUBJECT: Final = Subject("Sodium", (CHANGE_BY_VOLUME, CHANGE_BY_BALANCE, FOR_GLUCOSE, DEFICIT))
