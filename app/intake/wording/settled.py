"""What a name says twice or in another measure, settled into parts and volumes."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from app.intake.orders.quantities import Quantity
from app.intake.recipe import GLUCOSE_WITH_SALT, SALINE, SALINE_OF
from app.intake.wording.parts import DoseWords, Recipe

ML_PER_100: Final = 100.0
STRONG_PERCENT: Final = 10.0
GLUCOSE: Final = ("glucose", "dextrose")
# Fluids ordered by the gram: their volume is that of the strength named.
BY_WEIGHT: Final = ("mannitol", "albumin", *GLUCOSE)
SAME_WITHIN: Final = 0.1
# An ampoule or syringe of 50% glucose holds 50 mL (common practice, no source).
FIFTY_ML: Final = (("dextrose", 50.0), ("glucose", 50.0))
FIFTY_ML_OF: Final = 50.0
# Potassium or sodium with each phosphate in the ampoules that are sold.
ION_OF: Final = {
    "potassium_phosphate": "potassium_chloride", "sodium_phosphate": "sodium_chloride",
}  # fmt: skip
ION_PER_PHOSPHATE: Final = (1.3, 1.6)
# Bags so usual that their volume stands without its unit ("NS 1000").
BAGS_ML: Final = frozenset({250.0, 500.0, 1000.0})


def settled(recipe: Recipe, weight_kg: float | None = None) -> Recipe:
    """The recipe with grams as a volume, the salt beside glucose, and ampoules already measured.

    "50% dextrose 25 g" is 50 mL, "D5 .45" holds 0.45% saline, "100 mL (2 amps)" is 100 mL.
    """
    recipe = _bagged(_measured(_in_ampoules(_ions_once(recipe))))
    return _by_weight(_salted(recipe), weight_kg)


def _ions_once(recipe: Recipe) -> Recipe:
    """Without the potassium or sodium that only explains a phosphate: "15 mmol (22 mEq K)"."""
    explained = {
        ION_OF[dose.key]: dose.quantity.number
        for dose in recipe.doses
        if dose.key in ION_OF and dose.quantity and dose.quantity.unit == "mmol"
    }
    if not explained:
        return recipe
    doses = (d for d in recipe.doses if not _explains(d, explained.get(d.key)))
    return replace(recipe, doses=tuple(doses))


def _explains(dose: DoseWords, phosphate_mmol: float | None) -> bool:
    if phosphate_mmol is None or dose.quantity is None or dose.quantity.unit not in ("mmol", "mEq"):
        return False
    low, high = ION_PER_PHOSPHATE
    return low * phosphate_mmol <= dose.quantity.number <= high * phosphate_mmol


def _in_ampoules(recipe: Recipe) -> Recipe:
    """Ampoules of 50% glucose, which are of one size: "1 amp D50"."""
    counts = [q for q in recipe.spare if q.unit == "ampoule"]
    one = len(recipe.parts) == 1 and recipe.parts[0] in FIFTY_ML
    if not one or len(counts) != 1 or recipe.volumes_ml or recipe.doses:
        return recipe
    spare = tuple(q for q in recipe.spare if q.unit != "ampoule")
    return replace(recipe, volumes_ml=(counts[0].number * FIFTY_ML_OF,), spare=spare)


def _bagged(recipe: Recipe) -> Recipe:
    """ "NS 1000" and "20 mmol/500 mL" say the bag's volume."""
    if recipe.volumes_ml:
        return recipe
    bare = [n for n in recipe.numbers if n in BAGS_ML]
    if len(bare) == 1 and recipe.parts:
        others = tuple(n for n in recipe.numbers if n != bare[0])
        return replace(recipe, volumes_ml=tuple(bare), numbers=others)
    bags = {d.quantity.bag_ml for d in recipe.doses if d.quantity and d.quantity.bag_ml}
    return replace(recipe, volumes_ml=tuple(bags)) if len(bags) == 1 else recipe


def _measured(recipe: Recipe) -> Recipe:
    """Without the count of ampoules where the volume in them is written, or where it is one."""
    is_told = bool(recipe.volumes_ml) and not recipe.doses
    spare = (q for q in recipe.spare if q.unit != "ampoule" or not (is_told or q.number == 1))
    return replace(recipe, spare=tuple(spare)) if recipe.spare else recipe


def _salted(recipe: Recipe) -> Recipe:
    """ "D5 .45", "D5 0.2%": the number left over is the salt's strength."""
    words = [word for word, percent in recipe.parts if percent in GLUCOSE_WITH_SALT]
    percents = [q.number for q in recipe.spare if q.unit == "%"]
    named = [n for n in (*recipe.numbers, *percents) if n in SALINE_OF]
    if len(recipe.parts) != 1 or words not in (["glucose"], ["dextrose"]) or len(named) != 1:
        return recipe
    return replace(
        recipe,
        parts=(*recipe.parts, (SALINE, SALINE_OF[named[0]])),
        numbers=tuple(n for n in recipe.numbers if n != named[0]),
        spare=tuple(q for q in recipe.spare if (q.unit, q.number) != ("%", named[0])),
    )


def _by_weight(recipe: Recipe, weight_kg: float | None) -> Recipe:
    """Grams, or grams for each kg, of the one strong fluid named as the volume that holds them."""
    named = _poured(recipe)
    if named is None:
        return recipe
    word, percent, grams_named, spare = named
    grams = [*_grams(grams_named, weight_kg)]
    if not grams or len(grams) < len(grams_named) or max(grams) > min(grams) * (1 + SAME_WITHIN):
        return recipe
    volume_ml = grams[0] / percent * ML_PER_100
    told = recipe.volumes_ml[0] if recipe.volumes_ml else volume_ml
    if len(recipe.volumes_ml) > 1 or abs(told - volume_ml) > SAME_WITHIN * told:
        return recipe
    return replace(recipe, parts=((word, percent),), doses=(), volumes_ml=(told,), spare=spare)


def _poured(recipe: Recipe) -> tuple[str, float, list[Quantity], tuple[Quantity, ...]] | None:
    """The one fluid ordered by weight: its word, strength and grams, and what is spare besides."""
    if len(recipe.parts) + len(recipe.doses) != 1 or recipe.numbers:
        return None
    grams = [q for q in recipe.spare if q.unit == "g"]
    percents = [q.number for q in recipe.spare if q.unit == "%"]
    if recipe.parts:
        (word, percent), percents_used = recipe.parts[0], 0
    else:
        dose = recipe.doses[0]
        word, percent, percents_used = _word(dose.key, dose.as_written), dose.percent, 0
        grams += [q for q in (dose.quantity, dose.also) if q and q.unit == "g"]
    if percent is None and len(percents) == 1:
        percent, percents_used = percents[0], 1
    weak = word in GLUCOSE and percent is not None and percent < STRONG_PERCENT
    if word not in BY_WEIGHT or percent is None or weak or not grams or recipe.left:
        return None
    spare = tuple(q for q in recipe.spare if q.unit not in ("g", "%" if percents_used else "g"))
    return word, percent, grams, spare


def _word(key: str, as_written: str) -> str:
    return "dextrose" if key == "glucose" and "dex" in as_written else key


def _grams(amounts: list[Quantity], weight_kg: float | None) -> Iterator[float]:
    for amount in amounts:
        if not amount.by_kg:
            yield amount.number
        elif weight_kg is not None:
            yield amount.number * weight_kg
