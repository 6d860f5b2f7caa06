"""What is put into the bag: an amount in people's units turned into ions and solutes."""

import re
from dataclasses import dataclass, replace
from typing import Final

from app.catalogue.fluid import ML_PER_L
from app.chemistry.composition import Composition
from app.chemistry.errors import UnitError
from app.chemistry.salts import salt_amounts
from app.intake.orders.quantities import UNITS, Quantity
from app.intake.recipe import recipe_of
from app.intake.request import Reader, Span, read_number
from app.intake.slips.whole_text import nearest
from app.intake.vocabulary import Vocabulary, fold, words_of
from app.intake.wording.amounts import doubt_of, mmol_of, what_lacks, with_only_strength
from app.intake.wording.parts import DoseWords
from app.intake.wording.settled import settled
from app.patient.order import AdditiveDose

AMOUNT: Final = Span(0, 100_000, "in the unit beside it", above=True)
# No bag for a vein holds more (common practice, no source).
POTASSIUM_ASKED_ABOVE_MMOL_L: Final = 200.0
# What a ward keeps in small strong bags for a central line; 40 mmol in 100 mL is the strongest.
SMALL_STRONG_MMOL: Final = 40.0
SMALL_STRONG_MMOL_L: Final = 400.0
NONE_ADDED: Final = frozenset({"none", "nil", "no", "no additives", "nothing", "n/a", "-", "plain"})
WITH_UNIT: Final = re.compile(r"(\d[\d.,]*)\s*([^\d\s.,].*)")
SALT_OF: Final = {"glucose": "glucose", "dextrose": "dextrose", "saline": "sodium_chloride"}
HOURS_PER_DAY: Final = 24.0


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
    """The additive list of one order; an entry that says there is none is none."""
    named = (r for r in readers if fold(str(r.raw("substance") or "")) not in NONE_ADDED)
    return tuple(_read_additive(reader, vocabulary, spread) for reader in named)


def _read_additive(reader: Reader, vocabulary: Vocabulary, spread: Spread) -> AdditiveDose:
    substance = reader.text("substance") or ""
    number, said = _amount(reader)
    unit = f"{said} {reader.text('unit') or ''}".strip()
    reader.ask_unknown()
    by_rate = "/" in unit or "day" in unit or "kg" in unit
    key = (substance, number, unit, spread if by_rate else NO_SPREAD)
    return vocabulary.keep("additives", key, lambda: _meaning(*key, vocabulary))


def _amount(reader: Reader) -> tuple[float | None, str]:
    """The amount, and the unit that stands with it: "20 mmol" in the amount's own field."""
    written = reader.raw("amount")
    match = WITH_UNIT.fullmatch(written.strip()) if isinstance(written, str) else None
    if match is None:
        return reader.number("amount", AMOUNT), ""
    number = read_number(match[1], {})
    if number is None or not AMOUNT.holds(number):
        reader.refuse("amount", written, AMOUNT.accepted)
    return number, match[2]


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
    own = _dose_in(text, vocabulary)
    if own is not None:
        return own
    doses = [_dose_in(way, vocabulary) for way in nearest(text, vocabulary)]
    found = {dose.key: dose for dose in doses if dose is not None}
    return next(iter(found.values())) if len(found) == 1 else None


def _dose_in(text: str, vocabulary: Vocabulary) -> DoseWords | None:
    recipe = settled(recipe_of(text, vocabulary, adding=True))
    if not recipe.is_whole:
        return None
    if len(recipe.doses) == 1 and not recipe.parts:
        return recipe.doses[0]
    if recipe.doses or len(recipe.parts) != 1 or len(recipe.volumes_ml) != 1:
        return None
    # A strong fluid by the mL: "D50 50 mL", "3% saline 20 mL".
    (word, percent), salt = recipe.parts[0], SALT_OF.get(recipe.parts[0][0])
    drawn = Quantity(recipe.volumes_ml[0], "mL")
    return None if salt is None or percent is None else DoseWords(salt, drawn, percent, word)


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
    dose = with_only_strength(dose, entry)
    try:
        mmol = mmol_of(salt_key, dose)
    except UnitError as error:
        unread = f"{error.what}: {error.given} is not read; {error.accepted}"
        return AdditiveDose(dose.key, Composition(), written, volume_ml, unread)
    if mmol is None:
        return AdditiveDose(dose.key, Composition(), written, volume_ml, what_lacks(dose))
    unread = doubt_of(salt_key, dose, mmol)
    if unread:
        return AdditiveDose(dose.key, Composition(), written, volume_ml, unread)
    per_litre = bool(dose.quantity and dose.quantity.per_litre) or dose.quantity is None
    added = salt_amounts(salt_key, mmol)
    return AdditiveDose(dose.key, added, written, volume_ml, "", per_litre)


def _needs_salt(key: str, entry: object) -> str:
    """A drug that is no electrolyte leaves the composition readable; an ion without salt not."""
    return f"which salt of {key}?" if key in ("calcium", "phosphate") else ""


def _volume_ml(dose: DoseWords) -> float | None:
    quantity = dose.quantity
    return quantity.number if quantity and quantity.unit == "mL" else None


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
