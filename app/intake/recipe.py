"""A fluid's name taken apart: base parts with their strengths, doses added, words left over."""

import re
from dataclasses import dataclass
from typing import Final

from app.intake.orders.quantities import AMOUNTS, LITRE, ML_PER_L, PER, Quantity, quantity_at
from app.intake.vocabulary import Hit, Vocabulary, fold, plain_words, words_of

GLUED: Final = re.compile(r"\b(kcl|nacl|bicarb)(?=\d)")
# "D12.5W": strengths between those that have a name of their own.
DEXTROSE: Final = re.compile(r"\bd\s?(7\.5|12\.5|15|17\.5|25|30|40|70)\s?%?(?:\s?w\b)?(?![\d.])")
# "0.45NS" and "D5 0.2NS" name the percent of the salt, "0.5NS" a share of normal saline.
NORMAL_SALINE: Final = 0.9
STRONG_PERCENT: Final = 10.0
ML_PER_100: Final = 100.0
SALINE_OF: Final = {0.18: 0.18, 0.2: 0.2, 0.225: 0.225, 0.25: 0.225, 0.3: 0.3, 0.33: 0.3,
                    0.45: 0.45, 0.5: 0.45}  # fmt: skip


@dataclass(frozen=True, slots=True)
class DoseWords:
    """Something added, as written: the vocabulary's key, its amount, its strength.

    The strength is in percent, or in mmol in each mL.
    """

    key: str
    quantity: Quantity | None
    percent: float | None
    as_written: str
    mmol_ml: float | None = None


@dataclass(frozen=True, slots=True)
class Recipe:
    """What a name is made of.

    parts: each base part with its strength in percent, None when not said. volumes_ml: volumes
    named. numbers: bare numbers left over. left: words that mean nothing here.
    """

    parts: tuple[tuple[str, float | None], ...] = ()
    doses: tuple[DoseWords, ...] = ()
    volumes_ml: tuple[float, ...] = ()
    numbers: tuple[float, ...] = ()
    left: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Phrase:
    """A known phrase: a fluid's part, or a drug; the text it was read from."""

    hit: Hit
    is_fluid: bool
    text: str


Item = Quantity | Phrase | str


def recipe_of(text: str, vocabulary: Vocabulary, *, adding: bool = False) -> Recipe:
    """Take a name apart. Cost grows with the name's words alone.

    adding: the text names something put into a bag, so that a word for both is no base fluid.
    """
    plain = DEXTROSE.sub(r"\1 % dextrose ", GLUED.sub(r"\1 ", fold(text)))
    words = plain_words(words_of(plain))
    return _Reading(_items(words, vocabulary, adding), vocabulary.fluid_fillers).recipe()


def poured(recipe: Recipe) -> Recipe:
    """The recipe with grams of strong glucose as its volume: "50% dextrose 25 g" is 50 mL."""
    found = re.findall(r"(\d+(?:\.\d+)?) (%|g)", recipe.left[0]) if len(recipe.left) == 1 else []
    if not found or recipe.volumes_ml or len(recipe.parts) + len(recipe.doses) != 1:
        return recipe
    number, unit = float(found[0][0]), found[0][1]
    word, percent, grams = _glucose_named(recipe)
    percent, grams = (number, grams) if unit == "%" else (percent, number)
    if not word or grams is None or percent is None or percent < STRONG_PERCENT:
        return recipe
    return Recipe(((word, percent),), (), (grams / percent * ML_PER_100,))


def _glucose_named(recipe: Recipe) -> tuple[str, float | None, float | None]:
    """Glucose as its one part or dose: the word, its percent, its grams; "" when it is not."""
    if recipe.parts:
        word, percent = recipe.parts[0]
        return (word if word in ("glucose", "dextrose") else ""), percent, None
    dose = recipe.doses[0]
    if dose.key != "glucose" or dose.quantity is None or dose.quantity.unit != "g":
        return "", None, None
    return ("dextrose" if "dex" in dose.as_written else "glucose"), None, dose.quantity.number


def _items(words: tuple[str, ...], vocabulary: Vocabulary, adding: bool) -> list[Item]:
    items: list[Item] = []
    at = 0
    while at < len(words):
        fluid, drug = vocabulary.fluids.hit(words, at), vocabulary.drugs.hit(words, at)
        best = drug if drug and _is_longer(drug, fluid, adding) else fluid
        if best:
            items.append(Phrase(best, best is fluid, " ".join(words[at : best.end])))
            at = best.end
            continue
        quantity, used = quantity_at(words, at)
        items.append(quantity or words[at])
        at += used
    return items


def _is_longer(drug: Hit, fluid: Hit | None, adding: bool) -> bool:
    return fluid is None or drug.end > fluid.end or (adding and drug.end == fluid.end)


def _per_shown(amount: Quantity) -> str:
    by_day = {"": "", "whole": "/day", "kg": "/kg/day"}[amount.by_day]
    return "/L" if amount.per_litre else by_day


def _also_said(stated: Quantity, poured: Quantity) -> float | None:
    """Mmol in each mL where it stands beside a percent: "15% (2 mmol/mL)", "20 mL (40 mmol)".

    None for mEq, which the percent says better, and for what is no strength.
    """
    if stated.unit != "mmol" or stated.per_litre or stated.by_day or not poured.number:
        return None
    return stated.number / (stated.in_ml or poured.number)


class _Reading:
    """Pairs the quantities of a name with its phrases, left to right, each used once."""

    def __init__(self, items: list[Item], fillers: frozenset[str]) -> None:
        self.items = items
        self.fillers = fillers
        self.used: set[int] = set()
        self.parts: list[tuple[str, float | None]] = []
        self.doses: list[DoseWords] = []

    def recipe(self) -> Recipe:
        """Read every phrase, then gather what is left."""
        for at, item in enumerate(self.items):
            if isinstance(item, Phrase):
                self.used.add(at)
                if item.is_fluid:
                    self._read_part(at, item)
                else:
                    self._read_drug(at, item)
        return self._rest()

    def _read_part(self, at: int, phrase: Phrase) -> None:
        data = phrase.hit.meaning.data
        name = data.get("part", phrase.hit.meaning.key)
        salt = data.get("salt")
        amount = self._beside(at, AMOUNTS) if salt else None
        if amount and amount.percent is not None and "base" not in data:
            self._use_if_same_percent(at, amount.percent)
            self.parts.append((name, amount.percent))
        elif salt and amount:
            self._add_dose(at, salt, amount, None, phrase.text)
        elif data.get("added_only"):
            self.used.discard(at)
        elif "strength" in data or data.get("base"):
            strength = self._share_before(at, data.get("strength"))
            self._use_if_same(at, strength)
            self.parts.append((name, strength))
        else:
            self._read_strength(at, phrase, name)

    def _share_before(self, at: int, strength: float | None) -> float | None:
        """The strength that a number just before normal saline names ("0.45NS"), or its own."""
        before = self.items[at - 1] if at else None
        if strength != NORMAL_SALINE or at - 1 in self.used or not isinstance(before, Quantity):
            return strength
        named = SALINE_OF.get(before.number) if before.unit in ("", "%") else None
        if named is None:
            return strength
        self.used.add(at - 1)
        return named

    def _use_if_same(self, at: int, strength: float | None) -> None:
        """A percent that only repeats the words ("normal saline 0.9%") leaves no doubt."""
        for beside in (at - 1, at + 1):
            if 0 <= beside < len(self.items) and self.items[beside] == Quantity(strength or 0, "%"):
                self.used.add(beside)

    def _use_if_same_percent(self, at: int, percent: float) -> None:
        """ "9 mg/mL (0.9%)" says its strength twice."""
        for beside in range(max(0, at - 2), min(len(self.items), at + 4)):
            if self.items[beside] == Quantity(percent, "%"):
                self.used.add(beside)

    def _read_strength(self, at: int, phrase: Phrase, name: str) -> None:
        strength = self._beside(at, ("%",)) or self._beside(at, ("",))
        percent = strength.number if strength else None
        data = phrase.hit.meaning.data
        if percent is not None and data.get("added_by_ml") and self._has_other_fluid(at):
            amount = self._beside(at, ("mL",))
            if amount:
                self._add_dose(at, data["salt"], amount, percent, phrase.text)
                return
        name = data.get("with_strength", name) if percent is not None else name
        self.parts.append((name, percent))

    def _has_other_fluid(self, at: int) -> bool:
        return any(
            isinstance(item, Phrase) and item.is_fluid
            for other, item in enumerate(self.items)
            if other != at
        )

    def _read_drug(self, at: int, phrase: Phrase) -> None:
        strength = self._beside(at, ("%",))
        units = (*AMOUNTS, "mL")
        amount = self._beside(at, units) or self._beside(at, units)
        if amount is None and "salt" in phrase.hit.meaning.data:
            amount = self._beside(at, ("",))
        percent = strength.number if strength else None
        amount, mmol_ml = self._of_ampoule(at, amount, percent)
        self._add_dose(at, phrase.hit.meaning.key, amount, percent, phrase.text, mmol_ml)

    def _of_ampoule(
        self, at: int, amount: Quantity | None, percent: float | None
    ) -> tuple[Quantity | None, float | None]:
        """An amount with the strength in mmol/mL that it, or a quantity beside it, states."""
        ampoule = amount
        if amount and amount.unit == "mL":
            ampoule = self._beside(at, AMOUNTS)
            if ampoule and percent is not None and ampoule.unit in ("mmol", "mEq"):
                return amount, _also_said(ampoule, amount)
        if ampoule is None or not ampoule.in_ml:
            return ampoule or amount, None
        poured = amount if ampoule is not amount else self._beside(at, ("mL",))
        counted = ampoule.unit in ("mmol", "mEq")
        if poured is None and (ampoule.in_ml > 1 or not counted):
            poured = Quantity(ampoule.number, ampoule.unit)
        if not counted or (percent is not None and ampoule.unit == "mEq"):
            return poured, None
        return poured, ampoule.number / ampoule.in_ml

    def _add_dose(  # noqa: PLR0913 - a dose's parts
        self, at: int, key: str, amount: Quantity | None, percent: float | None, text: str,
        mmol_ml: float | None = None,
    ) -> None:  # fmt: skip
        if amount and self._per_litre_after(at):
            amount = Quantity(amount.number, amount.unit, per_litre=True)
        strength = f"{percent:g}% " if percent is not None else ""
        shown = f"{amount.number:g} {amount.unit} ".replace("  ", " ") if amount else ""
        per = _per_shown(amount) if amount else ""
        self.doses.append(DoseWords(key, amount, percent, f"{shown}{strength}{text}{per}", mmol_ml))

    def _per_litre_after(self, at: int) -> bool:
        after = self.items[at + 1 : at + 3]
        return len(after) > 1 and after[0] in PER and after[1] in LITRE

    def _beside(self, at: int, units: tuple[str, ...]) -> Quantity | None:
        """The unused quantity just before ("of" may stand between), or else just after."""
        before, after = at - 1, at + 1
        while before >= 0 and self._may_pass(before):
            before -= 1
        while after in self.used and self._is_quantity(after):
            after += 1
        return self._take(before, units) or self._take(after, units)

    def _may_pass(self, at: int) -> bool:
        return self.items[at] == "of" or (at in self.used and self._is_quantity(at))

    def _is_quantity(self, at: int) -> bool:
        return isinstance(self.items[at], Quantity)

    def _take(self, at: int, units: tuple[str, ...]) -> Quantity | None:
        if not 0 <= at < len(self.items) or at in self.used:
            return None
        item = self.items[at]
        if not isinstance(item, Quantity) or item.unit not in units:
            return None
        self.used.add(at)
        return item

    def _rest(self) -> Recipe:
        volumes: list[float] = []
        numbers: list[float] = []
        left: list[str] = []
        for at, item in enumerate(self.items):
            if at in self.used or (isinstance(item, str) and item in self.fillers):
                continue
            if not isinstance(item, Quantity):
                left.append(str(item))
            elif item.unit in ("mL", "L"):
                volumes.append(item.number * (ML_PER_L if item.unit == "L" else 1))
            elif item.unit:
                left.append(f"{item.number:g} {item.unit}")
            else:
                numbers.append(item.number)
        return Recipe(
            tuple(self.parts), tuple(self.doses), tuple(volumes), tuple(numbers), tuple(left)
        )
