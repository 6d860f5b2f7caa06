"""The one line of text beside an order's fields: what it names and adds, held against them."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Final

from app.catalogue.fluid import ML_PER_L, Fluid
from app.chemistry.composition import Composition
from app.intake.fluids import FluidReading
from app.intake.recipe import recipe_of
from app.intake.vocabulary import Vocabulary, fold
from app.intake.wording.settled import settled
from app.patient.order import AdditiveDose

ADDED: Final = re.compile(
    r"(?:\b(?:with|plus|containing|and|added|adding|add|c|w)\b|\bw/|\+|[,;(]\s*(?=[a-z])).*"
)
AMOUNT: Final = re.compile(
    r"\d\s*(?:mmols?|meqs?|g|grams?|mg|units?|iu|u|%|k|kcl)(?![a-z])|\b(?:k|kcl)\s?\d"
)
CONDITION: Final = re.compile(
    r"(?:^|[,;(]|\.\s|\s-\s)(?:[^,;().]|\.(?=\d))*\b(?:if|when|unless)\b(?:[^,;().]|\.(?=\d))*"
)
SWALLOWED: Final = re.compile(r"\b(?:po|oral(?:ly)?|by mouth|tablets?|via ng|ngt)\b")
# A volume drawn up beside that of a bag, which may stand without its unit.
ML: Final = r"\d\s*(?:mls?|cc)\b"
BAG: Final = r"(?:\d\s*(?:mls?|cc|l|lit(?:re|er)s?)\b|\b(?:250|500|1000)\b)"
OF_EACH: Final = re.compile(rf"(?:\d*\.)?\d*{ML}\s*(?:each\b|/\s*amp\w*|per amp\w*)")
TWO_VOLUMES: Final = re.compile(rf"{ML}.*{BAG}|{BAG}.*{ML}")
SALT: Final = r"(?:kcl|potassium|magnesium|calcium|bicarb\w*)\b"
ADDING: Final = re.compile(rf"\badd(?:ed|ing)?\b[^,;.]*\b{SALT}|\b{SALT}[^,;.]*\badded\b")
# Two fluids that differ by less are one for this purpose (lactated Ringer's, Hartmann's).
ALIKE_MMOL_L: Final = 4.0
ALIKE_GLUCOSE_G_L: Final = 6.0
COMPARED: Final = ("sodium_mmol_l", "potassium_mmol_l", "chloride_mmol_l", "bicarbonate_mmol_l",
                   "calcium_mmol_l", "albumin_g_l", "mannitol_g_l")  # fmt: skip
SAME_WITHIN: Final = 0.05


def without_doses(text: str, vocabulary: Vocabulary) -> str:
    """The words without the mL drawn up of what is added: only the bag's own volume stays.

    "KCl 15% 10 mL in 500 mL" leaves 500 mL; an ampoule given as it is keeps its mL.
    """
    return vocabulary.keep("bags alone", text, lambda: _without_doses(text, vocabulary))


def _without_doses(text: str, vocabulary: Vocabulary) -> str:
    left = fold(text)
    if not TWO_VOLUMES.search(left):
        return text
    recipe = settled(recipe_of(text, vocabulary))
    left = OF_EACH.sub(" ", left) if recipe.volumes_ml else left
    for dose in recipe.doses if recipe.volumes_ml else ():
        amounts = (dose.quantity, dose.poured)
        for drawn in {q.number for q in amounts if q and q.unit == "mL"}:
            left = re.sub(rf"(?<![\d.,]){drawn:g}(?:\.0+)?\s*(?:mls?|cc)\b", " ", left, count=1)
    return left


def added_behind(rate_words: str) -> str:
    """What words behind a rate put into the bag: "with KCl 20 mmol/L" of "100 mL/h with KCl ...".

    Nothing where they state no amount, unless a salt is said to be added.
    """
    match = ADDED.search(rate_words)
    if match and AMOUNT.search(match[0]):
        return match[0]
    told = ADDING.search(rate_words)
    return told[0] if told else ""


def with_line(field: FluidReading, line: FluidReading) -> FluidReading:
    """The fluid of the field, in the light of the line: it may say which, or another."""
    if line.is_unnamed or not line.is_read:
        return field
    told = line.base or line.fluid
    if not field.is_read:
        return replace(field, fluid=told, candidates=line.candidates)
    mine = (field.base or field.fluid,) if field.fluid else field.candidates
    other = (told,) if told else line.candidates
    both = tuple(f for f in mine if f and any(o and _alike(f, o) for o in other))
    if field.fluid or len(both) == len(mine):
        return field if both else _either(field, (*mine, *other))
    if len(both) == 1:
        return replace(field, fluid=both[0], candidates=(), ask="", choices=())
    by_id = tuple(f for f in mine if f in other)
    if len(by_id) == 1:
        return replace(field, fluid=by_id[0], candidates=(), ask="", choices=())
    return replace(field, candidates=both) if both else _either(field, (*mine, *other))


def _either(field: FluidReading, fluids: Iterable[Fluid | None]) -> FluidReading:
    named = tuple(dict.fromkeys(fluid for fluid in fluids if fluid))
    ask = f"The fluid and the line of text do not agree: {' or '.join(f.name for f in named)}?"
    return replace(field, fluid=None, base=None, candidates=named, ask=ask)


def _alike(first: Fluid, second: Fluid) -> bool:
    if first.id == second.id:
        return True
    a, b = first.composition, second.composition
    glucose = abs(a.glucose_g_l - b.glucose_g_l) <= ALIKE_GLUCOSE_G_L
    near = (abs((getattr(a, n) or 0) - (getattr(b, n) or 0)) <= ALIKE_MMOL_L for n in COMPARED)
    return glucose and all(near)


def depends(text: str) -> str:
    """The clause that adds something only if, or until: "add 20 mmol KCl if K is under 3.5"."""
    plain = fold(text)
    clauses = (match[0].strip(" ,;-(") for match in CONDITION.finditer(plain))
    return next((clause for clause in clauses if AMOUNT.search(clause)), "")


def doubtful_in_line(
    told: Iterable[AdditiveDose], known: tuple[AdditiveDose, ...], text: str
) -> Iterator[str]:
    """Salts with an amount in a line that is not understood as a whole, and stand nowhere else."""
    substances = {dose.substance for dose in known}
    for dose in () if SWALLOWED.search(fold(text)) else told:
        is_salt = not dose.unread and dose.added != Composition()
        if is_salt and dose.substance not in substances:
            yield dose.as_written


def new_in_line(
    told: Iterable[AdditiveDose], known: tuple[AdditiveDose, ...], volume_ml: float | None
) -> Iterator[AdditiveDose]:
    """What the line adds that neither name nor list has; what it says differently is not read."""
    for dose in told:
        same = [other for other in known if other.substance == dose.substance]
        if not same:
            yield dose
        elif not any(_equal(dose, other, volume_ml) for other in same):
            said = f"{dose.as_written} in the line, {same[0].as_written} beside it: which?"
            yield replace(dose, added=Composition(), unread=said)


def _equal(first: AdditiveDose, second: AdditiveDose, volume_ml: float | None) -> bool:
    """Equal amounts, or nothing to compare (a drug, or one already asked about)."""
    if first.unread or second.unread or first.added == second.added == Composition():
        return True
    amounts = [_in_a_litre(dose, volume_ml) for dose in (first, second)]
    if amounts[0] is None or amounts[1] is None:
        return first.added == second.added
    largest = max(*amounts[0], *amounts[1])
    pairs = zip(*amounts, strict=True)
    return all(abs(one - other) <= SAME_WITHIN * largest for one, other in pairs)


def _in_a_litre(dose: AdditiveDose, volume_ml: float | None) -> tuple[float, ...] | None:
    if not dose.per_litre and volume_ml is None:
        return None
    factor = 1.0 if dose.per_litre or volume_ml is None else ML_PER_L / volume_ml
    return tuple((getattr(dose.added, name) or 0.0) * factor for name in (*COMPARED, "glucose_g_l"))
