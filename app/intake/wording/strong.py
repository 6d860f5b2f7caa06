"""Strong fluids given as they are: an ampoule by its mL, or by the salt that is in it."""

from collections.abc import Iterable, Mapping
from typing import Any, Final

from app.catalogue.fluid import ML_PER_L, Fluid
from app.intake.additives import dose_of
from app.intake.vocabulary import Vocabulary
from app.intake.wording.known import KnownFluids
from app.intake.wording.parts import DoseWords, Recipe

COUNTED_IONS: Final = (
    "bicarbonate_mmol_l", "potassium_mmol_l", "calcium_mmol_l", "magnesium_mmol_l"
)  # fmt: skip
SAME_WITHIN: Final = 0.1
# Labels and papers round one fluid's figures so far apart.
NEAR_WITHIN: Final = 0.03
BY_AMOUNT: Final = ("mmol", "mEq", "g")
Strong = tuple[Fluid, float]


def strong_fluid(recipe: Recipe, known: KnownFluids) -> Strong | None:
    """The concentrate that a name means, and its mL; None where it means no such thing.

    "10 mL of 10% calcium gluconate", "50 mmol sodium bicarbonate (8.4%, 50 mL)". A volume and an
    amount that do not agree mean none.
    """
    if recipe.numbers:
        return None
    if recipe.parts:
        return _by_amount(recipe, known)
    return _ampoule(recipe, known) if len(recipe.doses) == 1 else None


def holding_of(fluids: Iterable[Fluid], amount: float) -> tuple[Fluid, ...]:
    """Those of which a litre holds so many mmol of sodium, or else so many mOsm in all."""
    listed = tuple(fluids)
    by_salt = tuple(f for f in listed if _near(f.composition.sodium_mmol_l, amount))
    return by_salt or tuple(f for f in listed if _near(f.osmolarity_mosm_l or 0.0, amount))


def _near(held: float, amount: float) -> bool:
    return abs(held - amount) <= NEAR_WITHIN * amount


def _ampoule(recipe: Recipe, known: KnownFluids) -> Strong | None:
    dose = recipe.doses[0]
    only = known.vocabulary.tables["drugs"]["drug"].get(dose.key, {}).get("only_percent")
    percents = [dose.percent] if dose.percent else [q.number for q in recipe.spare]
    percents = [float(only)] if only and not percents else percents
    poured = [dose.quantity.number] if dose.quantity and dose.quantity.unit == "mL" else []
    if dose.quantity is None or len(percents) != 1 or len(recipe.spare) > 1:
        return None
    fluid = known.concentrate(dose.key, percents[0])
    if fluid is None:
        return None
    return _in_ml(fluid, dose, [*recipe.volumes_ml, *poured], known.vocabulary)


def _by_amount(recipe: Recipe, known: KnownFluids) -> Strong | None:
    """A strong fluid ordered by the salt in it: "50 mmol sodium bicarbonate 8.4%"."""
    if not len(recipe.parts) == len(recipe.spare) == 1 or recipe.doses:
        return None
    words: Mapping[str, Mapping[str, Any]] = known.vocabulary.tables["fluids"]["name"]
    word, amount = recipe.parts[0][0], recipe.spare[0]
    fluid, salt = known.one(frozenset(recipe.parts), None), words.get(word, {}).get("salt")
    if fluid is None or salt is None or amount.per_litre or amount.unit not in BY_AMOUNT:
        return None
    dose = DoseWords(salt, amount, None, word)
    return _in_ml(fluid, dose, list(recipe.volumes_ml), known.vocabulary)


def _in_ml(
    fluid: Fluid, dose: DoseWords, volumes_ml: list[float], vocabulary: Vocabulary
) -> Strong | None:
    """The concentrate with its mL as written, or as the amount needs; they must agree."""
    told = dose.quantity is not None and dose.quantity.unit != "mL"
    by_amount = _ml_of(dose, fluid, vocabulary) if told else None
    if len(volumes_ml) > 1 or not (volumes_ml or by_amount):
        return None
    volume_ml = volumes_ml[0] if volumes_ml else by_amount or 0.0
    if told and abs((by_amount or 0.0) - volume_ml) > SAME_WITHIN * volume_ml:
        return None
    return fluid, volume_ml


def _ml_of(dose: DoseWords, fluid: Fluid, vocabulary: Vocabulary) -> float | None:
    """The mL of a concentrate that hold the amount written: 50 mL of 8.4% for 50 mmol."""
    read = dose_of(dose, vocabulary)
    for name in COUNTED_IONS:
        held = getattr(fluid.composition, name)
        if held and getattr(read.added, name):
            return float(getattr(read.added, name)) / float(held) * ML_PER_L
    return None
