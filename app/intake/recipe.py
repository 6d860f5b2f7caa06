"""The grammar of a fluid's name: what each word takes from the amounts beside it."""

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import Any, Final

from app.intake.orders.quantities import AMOUNTS, Quantity, quantity_at
from app.intake.vocabulary import Hit, Vocabulary, plain_words, words_of
from app.intake.wording.amounts import BAG_PERCENT_UP_TO
from app.intake.wording.pairing import Pairing, counted, of_ampoule
from app.intake.wording.parts import DoseWords, Item, Phrase, Recipe
from app.intake.wording.shorthand import written_out

SALINE: Final = "saline"
# "0.45NS" and "D5 0.2NS" name the percent of the salt, "0.5NS" a share of normal saline.
NORMAL_SALINE: Final = 0.9
SALINE_OF: Final = {0.18: 0.18, 0.2: 0.2, 0.225: 0.225, 0.25: 0.225, 0.3: 0.3, 0.33: 0.3,
                    0.45: 0.45, 0.5: 0.45, 0.9: 0.9}  # fmt: skip
SAME_PERCENT: Final = 0.01
PERCENT_PER_MMOL_L: Final = 0.005844
GLUCOSE_WITH_SALT: Final = frozenset({2.5, 3.3, 3.33, 4.0, 4.3, 5.0, 10.0})
NEAR: Final = 5
# No bicarbonate is stronger: a larger number without a unit is an amount ("bicarb 150 in D5W").
STRONGEST_BICARBONATE_PERCENT: Final = 10.0
# A number beside "K" without a unit is an amount within these; "K 3.1" is a result.
BARE_POTASSIUM: Final = (10.0, 100.0)
# "KCl 40?" is a question, and no amount.
DOUBT: Final = re.compile(r"[\w%]\s?\?|^\?")
KCL: Final = "potassium_chloride"
# More than this is a bag of its own, and no ampoule drawn up.
AMPOULES_UP_TO_ML: Final = 100.0
# Named without their salt, which is asked about.
IONS: Final = ("calcium", "phosphate")
OF_DRUGS: Final = ("g", "mg", "mcg", "unit", "ampoule")
IN_AN_AMPOULE: Final = tuple(unit for unit in AMOUNTS if unit != "ampoule")


def recipe_of(text: str, vocabulary: Vocabulary, *, adding: bool = False) -> Recipe:
    """Take a name apart. Cost grows with the name's words alone.

    adding: the text names something put into a bag, so that a word for both is no base fluid.
    """
    plain = written_out(text)
    items = _items(plain_words(words_of(plain)), vocabulary, adding)
    doubt: list[Item] = ["?"] if DOUBT.search(plain) else []
    return _Reading([*items, *doubt], vocabulary.fluid_fillers).recipe()


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


class _Reading(Pairing):
    """Reads every phrase, left to right."""

    def recipe(self) -> Recipe:
        """Read every phrase, then gather what is left."""
        for at, item in enumerate(self.items):
            if isinstance(item, Phrase):
                self.used.add(at)
                if item.is_fluid:
                    self._read_part(at, item)
                else:
                    self._read_drug(at, item)
        return self.rest()

    def _read_part(self, at: int, phrase: Phrase) -> None:
        data = phrase.hit.meaning.data
        name = data.get("part", phrase.hit.meaning.key)
        if "salt" in data and self._read_salt(at, phrase, name):
            return
        if data.get("added_only"):
            self._read_bare(at, phrase)
        elif data.get("two_strengths"):
            self._read_two(at, name)
        elif "strength" in data or data.get("base"):
            strength = self._share_before(at, data.get("strength"))
            self._use_if_same(at, strength)
            if strength is not None:
                self._use_if_told_again(at, name, strength)
            self.parts.append((name, strength))
        else:
            self._read_strength(at, phrase, name)

    def _read_salt(self, at: int, phrase: Phrase, name: str) -> bool:
        """A salt with an amount beside it: its strength, where it is one, or else a dose."""
        taken, data = set(self.used), phrase.hit.meaning.data
        if self.place_beside(at, ("%",)) is not None and "added_only" not in data:
            # Its strength is written: an amount beside it is that of what comes next.
            return False
        amount = self.beside(at, AMOUNTS)
        if amount is None:
            return False
        percent = None if "base" in data else self._percent_of(at, name, amount)
        if percent is None:
            amount = self._counted(at, amount, data["salt"])
            dose = DoseWords(data["salt"], amount, None, phrase.text)
            self.add(at, taken, dose)
        else:
            self._use_if_same_percent(at, percent)
            self.parts.append((name, percent))
        return True

    def _percent_of(self, at: int, name: str, amount: Quantity) -> float | None:
        """The strength an amount states: "9 mg/mL", or "NaCl 77 mmol/L" where nothing else is."""
        is_counted = amount.per_litre and amount.unit in ("mmol", "mEq")
        if name == SALINE and is_counted and not self.has_other_fluid(at):
            return round(amount.number * PERCENT_PER_MMOL_L, 2)
        return amount.percent

    def _read_bare(self, at: int, phrase: Phrase) -> None:
        """ "40K", "20 of K": an amount with no unit."""
        taken, (low, high) = set(self.used), BARE_POTASSIUM
        place = self.place_beside(at, ("",))
        amount = None if place is None else self.quantity(place)
        whole = amount is not None and low <= amount.number <= high and amount.number % 1 == 0
        if place is None or not whole or phrase.hit.meaning.data["salt"] != KCL:
            self.used.discard(at)
            return
        self.used.add(place)
        self.add(at, taken, DoseWords(KCL, amount, None, phrase.text))

    def _read_two(self, at: int, name: str) -> None:
        """ "4%/0.18% dextrose saline": the strengths beside tell glucose and salt apart."""
        places = range(max(0, at - NEAR), min(len(self.items), at + NEAR + 1))
        near = [(i, q) for i in places if (q := self.free(i, ("", "%")))]
        salt = next(((i, q) for i, q in near if q.number in SALINE_OF), None)
        sugar = next(
            ((i, q) for i, q in near if q.number in GLUCOSE_WITH_SALT and (salt or q.unit)), None
        )
        if not salt and not sugar:
            self.parts.append((name, None))
            return
        self.used.update(found[0] for found in (salt, sugar) if found)
        self.parts.append(("dextrose", sugar[1].number if sugar else None))
        self.parts.append((SALINE, SALINE_OF[salt[1].number] if salt else None))

    def _share_before(self, at: int, strength: float | None) -> float | None:
        """The strength that a number just before normal saline names ("0.45NS"), or its own."""
        before = self.free(at - 1, ("", "%"))
        if before is None or strength != NORMAL_SALINE:
            return strength
        strong = before.unit == "%" and before.number > NORMAL_SALINE
        named = before.number if strong else SALINE_OF.get(before.number)
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
        taken = set(self.used)
        strength = self.beside(at, ("%",)) or self.beside(at, ("",))
        percent = strength.number if strength else None
        data = phrase.hit.meaning.data
        if percent is not None and "added_by_ml" in data and self.has_other_fluid(at):
            amount, own = self._added(at, strength, data)
            if amount:
                self.add(at, taken, DoseWords(data["salt"], amount, own, phrase.text))
                return
        if percent is None and not self.has_other_fluid(at):
            percent = data.get("alone", {}).get(phrase.text)
        if percent is not None:
            self._use_if_told_again(at, name, percent)
        name = data.get("with_strength", name) if percent is not None else name
        self.parts.append((name, percent))

    def _use_if_told_again(self, at: int, name: str, percent: float) -> None:
        """ "5% (50 g/L)", "0.9% NaCl (154 mmol/L)": the strength said a second time."""
        place = self.place_beside(at, AMOUNTS)
        amount = None if place is None else self.quantity(place)
        again = self._percent_of(at, name, amount) if amount else None
        if place is not None and again is not None and abs(again - percent) < SAME_PERCENT:
            self.used.add(place)

    def _added(
        self, at: int, strength: Quantity | None, data: Mapping[str, Any]
    ) -> tuple[Quantity | None, float | None]:
        """What a strong fluid adds to another bag: its mL and strength, or its bare amount."""
        number = strength.number if strength else 0.0
        if data["salt"] == "sodium_bicarbonate" and number > STRONGEST_BICARBONATE_PERCENT:
            return strength, None
        if number < data["added_by_ml"]:
            return None, None
        place = self.place_beside(at, ("mL",))
        drawn = None if place is None else self.quantity(place)
        is_bag = drawn is not None and drawn.number > AMPOULES_UP_TO_ML and data["added_by_ml"]
        if place is None or is_bag:
            return None, None
        self.used.add(place)
        return self._times(at, drawn), number

    def _times(self, at: int, drawn: Quantity | None) -> Quantity | None:
        """The mL of all ampoules, where those of each are said: "3 amps (8.4%, 50 mL each)"."""
        place = self.place_beside(at, ("ampoule",)) if drawn and drawn.in_each else None
        count = None if place is None else self.quantity(place)
        if drawn is None or place is None or count is None:
            return drawn
        self.used.add(place)
        return Quantity(drawn.number * count.number, drawn.unit)

    def _read_drug(self, at: int, phrase: Phrase) -> None:
        taken = set(self.used)
        strength = self.beside(at, ("%",))
        meaning = phrase.hit.meaning
        is_salt = "salt" in meaning.data or meaning.key in IONS
        amount = self.beside(at, AMOUNTS if is_salt else OF_DRUGS)
        if amount is None and ("salt" in meaning.data or self._is_told_in(at)):
            amount = self.beside(at, ("",))
        amount = self._counted(at, amount, meaning.key) if amount else None
        poured = self._poured(at, amount, strength)
        amount = amount or (self.beside(at, IN_AN_AMPOULE) if poured else None)
        strength = strength or (self.beside(at, ("%",)) if poured else None)
        percent = strength.number if strength else None
        amount, mmol_ml = of_ampoule(amount, poured, percent)
        dose = DoseWords(meaning.key, amount, percent, phrase.text, mmol_ml, poured=poured)
        self.add(at, taken, dose)

    def _is_told_in(self, at: int) -> bool:
        """ "Oxytocin 40 in 500 NS": a number between a drug and what it is in."""
        return self.free(at + 1, ("",)) is not None and self.items[at + 2 : at + 3] == ["in"]

    def _poured(
        self, at: int, amount: Quantity | None, strength: Quantity | None
    ) -> Quantity | None:
        """The mL of what is added; beside another amount only where the bag has its own.

        A weak strength is that of the whole bag, and so are its mL: "KCl 0.3% 500 mL".
        """
        if strength is not None and strength.number <= BAG_PERCENT_UP_TO:
            return None
        place = self.place_beside(at, ("mL",))
        bags = [i for i in range(len(self.items)) if i != place and self.free(i, ("mL", "L"))]
        if place is None or not (amount is None or amount.in_ml or bags):
            return None
        poured = self.quantity(place)
        is_strong = strength is not None or (amount is not None and amount.in_ml)
        if poured and not is_strong and poured.number > AMPOULES_UP_TO_ML:
            return None
        self.used.add(place)
        return poured

    def _counted(self, at: int, amount: Quantity, key: str) -> Quantity:
        """Ampoules as the amount in them, where it stands beside; ampoules where it does not.

        A count behind the amount only explains it: "20 mmol (2 amps)".
        """
        wanted = (*AMOUNTS, "mL") if amount.unit == "ampoule" else ("ampoule",)
        place = self.place_beside(at, wanted)
        other = None if place is None else self.quantity(place)
        if place is None or other is None:
            return replace(amount, unit="ampoule", in_each=False) if amount.in_each else amount
        held = counted(amount, other, key)
        if amount.unit != "ampoule" and not amount.in_each and place > self.items.index(amount):
            held = amount
        self.used.add(place)
        return held or Quantity(1, "ampoule")
