"""The amounts of a name and the words they stand beside, each used once."""

from dataclasses import replace
from typing import Final

from app.intake.orders.quantities import AMOUNTS, LITRE, ML_PER_L, PER, Quantity
from app.intake.wording.parts import DoseWords, Item, Phrase, Recipe

# Words that may stand between a substance and its amount.
PASSED_BEFORE: Final = frozenset({"of", "each", "/", "per", "bag", "total"})
SAID_AGAIN: Final = tuple(unit for unit in AMOUNTS if unit != "ampoule")
EQUAL: Final = 1e-6
PASSED_BEHIND: Final = frozenset(
    {"%", "inj", "injection", "iv", "of", "=", "gtt", "drip", "infusion", "rider", "ivpb", "bolus"}
)


class Pairing:
    """What has been read of a name's items so far, and which amounts are still free."""

    def __init__(self, items: list[Item], fillers: frozenset[str]) -> None:
        self.items = items
        self.fillers = fillers
        self.used: set[int] = set()
        self.parts: list[tuple[str, float | None]] = []
        self.doses: list[DoseWords] = []
        self.spare: list[Quantity] = []
        # Where each dose's words and amount stand, so that an amount said twice finds its own.
        self.dose_at: dict[int, int] = {}

    def beside(self, at: int, units: tuple[str, ...]) -> Quantity | None:
        """The unused quantity just before ("of" may stand between), or else just after; used."""
        place = self.place_beside(at, units)
        if place is None:
            return None
        self.used.add(place)
        return self.quantity(place)

    def place_beside(self, at: int, units: tuple[str, ...]) -> int | None:
        """Where the unused quantity beside stands."""
        before, after = at - 1, at + 1
        while before >= 0 and self._may_pass(before, PASSED_BEFORE):
            before -= 1
        while after < len(self.items) and self._may_pass(after, PASSED_BEHIND):
            after += 1
        return next((place for place in (before, after) if self._fits(place, units)), None)

    def quantity(self, at: int) -> Quantity | None:
        """The quantity at a place; None where something else stands."""
        item = self.items[at]
        return item if isinstance(item, Quantity) else None

    def free(self, at: int, units: tuple[str, ...]) -> Quantity | None:
        """The quantity at a place when it is unused and in one of these units."""
        return self.quantity(at) if self._fits(at, units) else None

    def has_other_fluid(self, at: int) -> bool:
        """True when another fluid is named than the one at this place."""
        return any(
            isinstance(item, Phrase) and item.is_fluid
            for other, item in enumerate(self.items)
            if other != at
        )

    def add(self, at: int, taken: set[int], dose: DoseWords) -> None:
        """Note a dose whose words stand here; taken: what was used before its amounts were."""
        quantity = dose.quantity
        if quantity and self._per_litre_after(at):
            dose = replace(dose, quantity=replace(quantity, per_litre=True))
        self.dose_at |= dict.fromkeys((at, *(self.used - taken)), len(self.doses))
        self.doses.append(replace(dose, as_written=_shown(dose)))

    def rest(self) -> Recipe:
        """What was read, and all that was not."""
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
                self._said_again(at, item)
            else:
                numbers.append(item.number)
        lists = (self.parts, self._amounts_once(), volumes, numbers, left, self.spare)
        return Recipe(*(tuple(one) for one in lists))  # type: ignore[arg-type]

    def _amounts_once(self) -> list[DoseWords]:
        """The doses without a second word for one that has its amount: "20 mmol K+ of KCl"."""
        told = {dose.key for dose in self.doses if dose.quantity is not None}
        return [d for d in self.doses if d.quantity or d.percent is not None or d.key not in told]

    def _said_again(self, at: int, item: Quantity) -> None:
        """An amount beside a dose that has one in another unit: "2 g (8 mmol)"; or one that
        belongs to nothing, such as the end of a range.
        """
        before = at - 1
        while before > 0 and self.items[before] in self.fillers:
            before -= 1
        dose_at = self.dose_at.get(before, self.dose_at.get(at + 1))
        dose = None if dose_at is None else self.doses[dose_at]
        known = dose.quantity if dose and dose.also is None else None
        again = known is not None and known.unit not in ("", item.unit) and item.unit in SAID_AGAIN
        if known and known.bag_ml and known.unit == item.unit and _is_all_of(known, item):
            return
        if dose_at is None or dose is None or not again:
            self.spare.append(item)
        else:
            self.doses[dose_at] = replace(dose, also=item)

    def _per_litre_after(self, at: int) -> bool:
        after = self.items[at + 1 : at + 3]
        return len(after) > 1 and after[0] in PER and after[1] in LITRE

    def _may_pass(self, at: int, words: frozenset[str]) -> bool:
        item = self.items[at]
        return item in words or (at in self.used and isinstance(item, Quantity))

    def _fits(self, at: int, units: tuple[str, ...]) -> bool:
        if not 0 <= at < len(self.items) or at in self.used:
            return False
        item = self.items[at]
        return isinstance(item, Quantity) and item.unit in units


def _is_all_of(per_litre: Quantity, whole: Quantity) -> bool:
    """True for "10 mEq/100 mL ... 10 mEq": the whole bag."""
    return abs(per_litre.number * (per_litre.bag_ml or 0) / ML_PER_L - whole.number) < EQUAL


# What one ampoule holds, in mmol, where makers leave few choices (common practice, no source).
SIZES_MMOL: Final = {
    "sodium_bicarbonate": (8.4, 10.0, 44.6, 50.0),
    "potassium_chloride": (10.0, 13.0, 13.4, 20.0, 26.8, 27.0, 40.0),
}


def counted(amount: Quantity, other: Quantity, key: str) -> Quantity | None:
    """Ampoules as the amount in them, where it is said: "3 amps (50 mEq/amp)", "3 amps (150 mEq)";
    None where it is not, or may be that of one as well as of all.
    """
    pair = (amount, other) if amount.unit == "ampoule" else (other, amount)
    count, held = pair
    if count.unit != "ampoule" or held.unit not in (*AMOUNTS, "mL") or held.unit == "ampoule":
        return None
    if held.in_each or (held.in_ml or 0) > 1 or count.number == 1:
        return Quantity(count.number * held.number, held.unit)
    sizes = SIZES_MMOL.get(key, ()) if held.unit in ("mmol", "mEq") else ()
    of_one, of_all = held.number in sizes, held.number / count.number in sizes
    if of_one == of_all:
        return None
    return Quantity(held.number * (count.number if of_one else 1), held.unit)


def of_ampoule(
    amount: Quantity | None, poured: Quantity | None, percent: float | None
) -> tuple[Quantity | None, float | None]:
    """What is added, with the strength in mmol/mL that its amount and its mL state."""
    if amount is None:
        return poured, None
    is_counted = amount.unit in ("mmol", "mEq")
    if not amount.in_ml:
        by_percent = poured is not None and percent is not None and is_counted
        return (poured, _also_said(amount, poured)) if poured and by_percent else (amount, None)
    if poured is None and (amount.in_ml > 1 or not is_counted):
        poured = Quantity(amount.number, amount.unit)
    if not is_counted or (percent is not None and amount.unit == "mEq"):
        return poured, None
    return poured, amount.number / amount.in_ml


def _also_said(stated: Quantity, poured: Quantity) -> float | None:
    """Mmol in each mL where it stands beside a percent: "15% (2 mmol/mL)", "20 mL (40 mmol)".

    None for mEq, which the percent says better, and for what is no strength.
    """
    if stated.unit != "mmol" or stated.per_litre or stated.by_day or not poured.number:
        return None
    return stated.number / (stated.in_ml or poured.number)


def _shown(dose: DoseWords) -> str:
    amount = dose.quantity
    strength = f"{dose.percent:g}% " if dose.percent is not None else ""
    if amount is None:
        return f"{strength}{dose.as_written}"
    shown = f"{amount.number:g} {amount.unit} ".replace("  ", " ")
    by_day = {"": "", "whole": "/day", "kg": "/kg/day"}[amount.by_day]
    per = "/L" if amount.per_litre else "/kg" if amount.by_kg else by_day
    return f"{shown}{strength}{dose.as_written}{per}"
