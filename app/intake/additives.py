"""What is put into the bag: an amount in people's units turned into ions and solutes."""

from dataclasses import dataclass, replace
from typing import Final

from app.catalogue.fluid import ML_PER_L
from app.chemistry.composition import Composition
from app.chemistry.errors import UnitError
from app.chemistry.salts import salt_amounts, salt_mmol_from_g
from app.chemistry.units import salt_mmol_from_meq
from app.intake.orders.quantities import UNITS, Quantity
from app.intake.recipe import recipe_of
from app.intake.request import Reader, Span
from app.intake.vocabulary import Vocabulary, words_of
from app.intake.wording.near import nearest
from app.intake.wording.parts import DoseWords
from app.patient.order import AdditiveDose

AMOUNT: Final = Span(0, 100_000, "in the unit beside it", above=True)
# No bag for a vein holds more (common practice, no source).
POTASSIUM_ASKED_ABOVE_MMOL_L: Final = 200.0
# What a ward keeps in small strong bags for a central line; 40 mmol in 100 mL is the strongest.
SMALL_STRONG_MMOL: Final = 40.0
SMALL_STRONG_MMOL_L: Final = 400.0
# 15% potassium chloride is called 2 mmol/mL, and is 2.01.
SAME_STRENGTH_WITHIN: Final = 0.1
NEEDS_RATE: Final = "an amount a day is spread by the rate (and the weight), which is not known"
HOURS_PER_DAY: Final = 24.0
MG_PER_G: Final = 1000.0
G_PER_ML_PER_PERCENT: Final = 0.01
# A factory-made bag holds at most 0.3% potassium chloride; above this a percent is an ampoule's
# strength, whose volume must be said.
BAG_PERCENT_UP_TO: Final = 1.0
# Salts whose amount is so usually in mmol that people leave the unit out.
UNIT_UNSAID: Final = ("potassium_chloride", "sodium_bicarbonate", "sodium_chloride")
LEAST_MMOL: Final = 1.0


@dataclass(frozen=True, slots=True)
class Spread:
    """What an amount a day is spread by: the rate; and the weight for one by weight."""

    rate_ml_h: float | None = None
    weight_kg: float | None = None

    def of(self, dose: DoseWords) -> DoseWords:
        """The dose with its daily amount turned into one in each litre, and its amount for each
        kg into one in all, where they can be.
        """
        quantity = dose.quantity
        if quantity is not None and quantity.by_kg and self.weight_kg is not None:
            amount = quantity.number * self.weight_kg
            return replace(dose, quantity=Quantity(amount, quantity.unit))
        if quantity is None or not quantity.by_day or not self.rate_ml_h:
            return dose
        weight = self.weight_kg if quantity.by_day == "kg" else 1.0
        if weight is None:
            return dose
        litres_a_day = self.rate_ml_h * HOURS_PER_DAY / ML_PER_L
        per_litre = Quantity(quantity.number * weight / litres_a_day, quantity.unit, per_litre=True)
        return replace(dose, quantity=per_litre)


NO_SPREAD: Final = Spread()


def read_additives(
    readers: tuple[Reader, ...], vocabulary: Vocabulary, spread: Spread = NO_SPREAD
) -> tuple[AdditiveDose, ...]:
    """The additive list of one order."""
    return tuple(_read_additive(reader, vocabulary, spread) for reader in readers)


def _read_additive(reader: Reader, vocabulary: Vocabulary, spread: Spread) -> AdditiveDose:
    substance = reader.text("substance") or ""
    number = reader.number("amount", AMOUNT)
    unit = reader.text("unit") or ""
    reader.ask_unknown()
    by_rate = "/" in unit or "day" in unit or "kg" in unit
    key = (substance, number, unit, spread if by_rate else NO_SPREAD)
    return vocabulary.keep("additives", key, lambda: _meaning(*key, vocabulary))


def _meaning(
    substance: str, number: float | None, unit: str, spread: Spread, vocabulary: Vocabulary
) -> AdditiveDose:
    shown = f"{number:g} {unit}" if number is not None else ""
    written = f"{shown} {substance}".strip()
    if not substance or (number is not None and not unit):
        lack = f"{substance}: no unit is written" if substance else "no substance is named"
        return AdditiveDose(substance, Composition(), written, unread=lack)
    dose = _one_dose(f"{shown} of {substance}", vocabulary)
    if dose is not None:
        return dose_of(spread.of(dose), vocabulary, written)
    return AdditiveDose(substance, Composition(), written, unread=_why(substance, unit))


def _one_dose(text: str, vocabulary: Vocabulary) -> DoseWords | None:
    """The one dose that the words name, or that the words they are a slip of name alike."""
    recipe = recipe_of(text, vocabulary, adding=True)
    if recipe.is_whole:
        return recipe.doses[0] if len(recipe.doses) == 1 else None
    ways = [recipe_of(way, vocabulary, adding=True) for way in nearest(text, vocabulary)]
    doses = {way.doses[0].key: way.doses[0] for way in ways if way.is_whole and len(way.doses) == 1}
    return next(iter(doses.values())) if len(doses) == 1 else None


def _why(substance: str, unit: str) -> str:
    if all(word in UNITS or word in ("/", "per") for word in words_of(unit)):
        return f"{substance} is not a known additive"
    return f"{substance}: the unit {unit} is not read; mmol, mEq, g, mg, or mL of a strength"


def dose_of(dose: DoseWords, vocabulary: Vocabulary, written: str = "") -> AdditiveDose:
    """One dose as ions and solutes; unread says what stands in the way."""
    written = written or dose.as_written
    entry = vocabulary.tables["drugs"]["drug"].get(dose.key, {})
    salt_key = entry.get("salt")
    volume_ml = _volume_ml(dose)
    if salt_key is None:
        unread = _needs_salt(dose.key, entry)
        return AdditiveDose(dose.key, Composition(), written, volume_ml, unread)
    try:
        mmol = _mmol(salt_key, dose)
    except UnitError as error:
        unread = f"{error.what}: {error.given} is not read; {error.accepted}"
        return AdditiveDose(dose.key, Composition(), written, volume_ml, unread)
    if mmol is None:
        return AdditiveDose(dose.key, Composition(), written, volume_ml, _lacks(dose))
    unread = _disagreement(salt_key, dose, mmol) or _too_little(salt_key, dose, mmol)
    if unread:
        return AdditiveDose(dose.key, Composition(), written, volume_ml, unread)
    per_litre = bool(dose.quantity and dose.quantity.per_litre) or dose.quantity is None
    added = salt_amounts(salt_key, mmol)
    return AdditiveDose(dose.key, added, written, volume_ml, "", per_litre)


def _disagreement(salt_key: str, dose: DoseWords, mmol: float) -> str:
    """What two figures of one dose say differently; empty where they agree.

    A percent beside mmol/mL, or an amount said twice ("2 g (8 mmol)").
    """
    if dose.percent is not None and dose.mmol_ml is not None:
        by_percent = salt_mmol_from_g(salt_key, dose.percent * G_PER_ML_PER_PERCENT)
        if abs(by_percent - dose.mmol_ml) > SAME_STRENGTH_WITHIN * by_percent:
            return f"{dose.percent:g}% and {dose.mmol_ml:g} mmol in each mL do not agree"
    also = dose.also
    if also is None or also.per_litre or also.by_day or also.by_kg or also.in_each:
        return ""
    again = _mmol(salt_key, DoseWords(dose.key, also, None, dose.as_written))
    if again is None or abs(again - mmol) <= SAME_STRENGTH_WITHIN * mmol:
        return ""
    return f"{dose.as_written} and {also.number:g} {also.unit} do not agree"


def _too_little(salt_key: str, dose: DoseWords, mmol: float) -> str:
    """Milligrams written where mmol were surely meant: 20 mg of potassium chloride is nothing."""
    in_mg = dose.quantity is not None and dose.quantity.unit == "mg"
    if not in_mg or salt_key not in UNIT_UNSAID or mmol >= LEAST_MMOL:
        return ""
    return f"{dose.as_written} is only {mmol:.1f} mmol: are mmol meant?"


def _needs_salt(key: str, entry: object) -> str:
    """A drug that is no electrolyte leaves the composition readable; an ion without salt not."""
    return f"which salt of {key}?" if key in ("calcium", "phosphate") else ""


def _volume_ml(dose: DoseWords) -> float | None:
    quantity = dose.quantity
    return quantity.number if quantity and quantity.unit == "mL" else None


def _lacks(dose: DoseWords) -> str:
    if dose.quantity is not None and dose.quantity.by_day:
        return NEEDS_RATE
    if dose.quantity is not None and dose.quantity.by_kg:
        return "an amount for each kg needs the weight, which is not known"
    if dose.quantity is None:
        return "no amount is written"
    if dose.quantity.unit == "mL":
        return "the strength (in percent, or mmol in each mL) is not written"
    if dose.quantity.unit == "ampoule":
        return "how much is in one ampoule, in mmol or g, is not written"
    if not dose.quantity.unit:
        return "no unit is written"
    return f"the unit {dose.quantity.unit} is not read; mmol, mEq, g, mg, or mL of a strength"


def _mmol(salt_key: str, dose: DoseWords) -> float | None:
    """Mmol of the salt; None when the words do not say. Raises UnitError (mEq of phosphate)."""
    quantity = dose.quantity
    if quantity is not None and (quantity.by_day or quantity.by_kg):
        return None
    if quantity is not None and quantity.unit == "mL" and dose.mmol_ml is not None:
        return quantity.number * dose.mmol_ml
    if quantity is None and dose.mmol_ml is not None:
        return None
    if quantity is None:
        return _mmol_l_of_percent(salt_key, dose.percent)
    if quantity.unit == "mmol" or (not quantity.unit and salt_key in UNIT_UNSAID):
        return quantity.number
    if quantity.unit == "mEq":
        return salt_mmol_from_meq(salt_key, quantity.number)
    grams = _grams(quantity, dose.percent)
    return None if grams is None else salt_mmol_from_g(salt_key, grams)


def _mmol_l_of_percent(salt_key: str, percent: float | None) -> float | None:
    """Mmol in each litre of a bag labelled in percent; None for an ampoule's strength."""
    if percent is None or percent > BAG_PERCENT_UP_TO:
        return None
    return salt_mmol_from_g(salt_key, percent * G_PER_ML_PER_PERCENT * ML_PER_L)


def _grams(quantity: Quantity, percent: float | None) -> float | None:
    if quantity.unit == "g":
        return quantity.number
    if quantity.unit == "mg":
        return quantity.number / MG_PER_G
    if quantity.unit == "mL" and percent is not None:
        return quantity.number * percent * G_PER_ML_PER_PERCENT
    return None


def ask_of_potassium(
    reader: Reader, additives: tuple[AdditiveDose, ...], mix: Composition | None
) -> None:
    """Ask about a bag no pharmacy would make: an amount meant for each mL, or for the day.

    A small strong bag of the usual make (20 mmol in 50 mL, 40 in 100) is what it says.
    """
    added = sum(dose.added.potassium_mmol_l for dose in additives if not dose.per_litre)
    strength = mix.potassium_mmol_l if mix else 0.0
    usual = 0 < added <= SMALL_STRONG_MMOL and strength <= SMALL_STRONG_MMOL_L
    any_added = any(dose.added.potassium_mmol_l for dose in additives)
    if any_added and mix and strength > POTASSIUM_ASKED_ABOVE_MMOL_L and not usual:
        shown = f"{mix.potassium_mmol_l:.0f} mmol/L of potassium"
        reader.ask("additives", shown, "Is the amount written that of the whole bag?")
