"""A fluid's name as people write it: the one catalogue entry it means, or those it may mean."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any, Final

from rapidfuzz import process

from app.catalogue.catalogue import Catalogue
from app.catalogue.fluid import Fluid
from app.intake.additives import BAG_PERCENT_UP_TO
from app.intake.orders.quantities import Quantity
from app.intake.recipe import DoseWords, Recipe, poured, recipe_of
from app.intake.vocabulary import Vocabulary, fold, plain_words, words_of

PARENTHESIS: Final = re.compile(r"\s*\([^)]*\)")
CONCENTRATE: Final = re.compile(r"\s*\bconcentrate\b(?:, [\d.]+ mmol/mL)?")
SUGGEST_FROM: Final = 70.0
SUGGESTIONS: Final = 4
KEPT_NAMES: Final = 5000
ONE_LITRE_ML: Final = 1000.0
NO_FLUID: Final = (
    "This is no fluid of the catalogue: what it holds is not read here. What does it hold in each"
    " litre?"
)
SALINE: Final = "saline"
KCL: Final = "potassium_chloride"
KCL_MMOL_L_PER_PERCENT: Final = 10_000 / 74.55
# Bags of plain glucose, weakest first; stronger than 70% is none that is made.
GLUCOSE_BAGS_PERCENT: Final = (5.0, 10.0, 20.0, 50.0)
GLUCOSE_PERCENT_UP_TO: Final = 70.0
G_PER_L_PER_PERCENT: Final = 10.0
Parts = frozenset[tuple[str, float | None]]


@dataclass(frozen=True, slots=True)
class FluidReading:
    """What a name means.

    fluid: the one entry; candidates: the entries it may mean when there is no one. doses: what
    the words add to the bag. ask: what to ask when in doubt, with choices. drugs: keys of drugs
    named that are no electrolyte. volume_ml: the volume named.
    """

    fluid: Fluid | None = None
    candidates: tuple[Fluid, ...] = ()
    doses: tuple[DoseWords, ...] = ()
    volume_ml: float | None = None
    ask: str = ""
    choices: tuple[str, ...] = ()


class NameBook:
    """Every way a catalogue's fluids are named, for one vocabulary."""

    def __init__(self, catalogue: Catalogue, vocabulary: Vocabulary) -> None:
        self.catalogue = catalogue
        self.vocabulary = vocabulary
        self._names: dict[tuple[str, ...], list[Fluid]] = {}
        self._parts: dict[tuple[Parts, float | None], Fluid] = {}
        self._means: Mapping[str, Mapping[str, Any]] = vocabulary.tables["fluids"]["means"]
        self._read: dict[tuple[str, float | None], FluidReading] = {}
        for fluid in catalogue:
            for name in _names_of(fluid):
                fluids = self._names.setdefault(plain_words(words_of(name)), [])
                if fluid not in fluids:
                    fluids.append(fluid)
        self._learn_bases()
        for fluid in catalogue:
            self._learn_parts(fluid)

    def _learn_bases(self) -> None:
        for part, fluid_id in self.vocabulary.tables["fluids"]["base"].items():
            fluid = self.catalogue.get(fluid_id)
            if fluid:
                self._parts[(frozenset({(part, None)}), None)] = fluid

    def _learn_parts(self, fluid: Fluid) -> None:
        name = CONCENTRATE.sub("", PARENTHESIS.sub("", fluid.name))
        recipe = recipe_of(name, self.vocabulary)
        parts, doses = _percent_doses_as_parts(recipe)
        vague = any(part in self._means for part, strength in parts if strength is None)
        if recipe.left or recipe.numbers or vague or not parts or len(doses) > 1:
            return
        kcl = doses[0].quantity.number if doses and doses[0].quantity else None
        self._parts.setdefault((parts, kcl), fluid)

    def read(self, text: str, volume_ml: float | None = None) -> FluidReading:
        """What a name means in an order of this volume."""
        key = (text, volume_ml)
        if key not in self._read:
            if len(self._read) >= KEPT_NAMES:
                self._read.clear()
            self._read[key] = self._meaning(text, volume_ml)
        return self._read[key]

    def _meaning(self, text: str, volume_ml: float | None) -> FluidReading:
        known = self._names.get(plain_words(words_of(text)), [])
        if len(known) == 1:
            return FluidReading(known[0])
        if len(known) > 1:
            return _one_of(tuple(known), "Which of these is hung?")
        recipe = poured(recipe_of(text, self.vocabulary))
        named_ml = recipe.volumes_ml[0] if len(recipe.volumes_ml) == 1 else None
        reading = self._by_parts(text, recipe, volume_ml or named_ml)
        return replace(reading, volume_ml=named_ml)

    def _by_parts(self, text: str, recipe: Recipe, volume_ml: float | None) -> FluidReading:
        parts, doses = _percent_doses_as_parts(recipe)
        if not parts and any(self._is_no_fluid(dose) for dose in doses):
            return FluidReading(doses=doses, ask=NO_FLUID)
        if recipe.left or len(recipe.volumes_ml) > 1:
            return self._not_read(text, doses)
        if recipe.numbers:
            return self._ambiguous(text, recipe, parts, doses)
        premixed = self._premixed(parts, doses, volume_ml)
        if premixed:
            return FluidReading(premixed)
        fluid = self._one(parts, None)
        if fluid:
            return FluidReading(fluid, doses=doses)
        return self._made_up(parts, doses) or self._ambiguous(text, recipe, parts, doses)

    def _made_up(self, parts: Parts, doses: tuple[DoseWords, ...]) -> FluidReading | None:
        """Glucose of a strength that no bag has, or with a share of sodium chloride that none
        has: the next weaker glucose with glucose or salt added.
        """
        strengths = {_one_word(part): (part, strength) for part, strength in parts}
        if not strengths.keys() <= {"glucose", SALINE} or "glucose" not in strengths:
            return None
        fluid, more = self._glucose_from(*strengths["glucose"])
        percent = strengths[SALINE][1] if SALINE in strengths else 0.0
        if fluid is None or percent is None or percent > BAG_PERCENT_UP_TO:
            return None
        if percent:
            more += (DoseWords("sodium_chloride", None, percent, f"{percent:g}% sodium chloride"),)
        return FluidReading(fluid, doses=(*more, *doses)) if more else None

    def _glucose_from(
        self, word: str, percent: float | None
    ) -> tuple[Fluid | None, tuple[DoseWords, ...]]:
        """The glucose of this strength, or the next weaker one and the glucose it lacks."""
        own = self._one(frozenset({(word, percent)}), None)
        if own is not None or percent is None or percent > GLUCOSE_PERCENT_UP_TO:
            return own, ()
        bags = ((s, self._one(frozenset({(word, s)}), None)) for s in GLUCOSE_BAGS_PERCENT)
        weaker = [(s, fluid) for s, fluid in bags if fluid is not None and s < percent]
        if not weaker:
            return None, ()
        strength, fluid = weaker[-1]
        lacking = Quantity((percent - strength) * G_PER_L_PER_PERCENT, "g", per_litre=True)
        return fluid, (DoseWords("glucose", lacking, None, f"glucose to make {percent:g}%"),)

    def _is_no_fluid(self, dose: DoseWords) -> bool:
        entry = self.vocabulary.tables["drugs"]["drug"].get(dose.key, {})
        return entry.get("kind") in ("blood", "nutrition")

    def _premixed(
        self, parts: Parts, doses: tuple[DoseWords, ...], volume_ml: float | None
    ) -> Fluid | None:
        """The factory-made bag with this potassium in each litre, where the catalogue has it."""
        if len(doses) != 1 or doses[0].key != KCL:
            return None
        per_litre = _kcl_per_litre(doses[0], volume_ml)
        return None if per_litre is None else self._one(parts, per_litre)

    def _one(self, parts: Parts, kcl: float | None) -> Fluid | None:
        """The fluid of these parts; dextrose and glucose are one word where no entry parts them."""
        found = self._parts.get((parts, kcl))
        if found:
            return found
        for word, other in (("glucose", "dextrose"), ("dextrose", "glucose")):
            swapped = frozenset((other if p == word else p, s) for p, s in parts)
            found = self._parts.get((swapped, kcl))
            if found:
                return found
        return None

    def _ambiguous(
        self, text: str, recipe: Recipe, parts: Parts, doses: tuple[DoseWords, ...]
    ) -> FluidReading:
        """Several entries may be meant, or none: asked about, never guessed."""
        if not parts:
            carried = doses and not recipe.numbers
            ask = "In which fluid, and in what volume?"
            return FluidReading(doses=doses, ask=ask) if carried else self._not_read(text, doses)
        part, strength = next(iter(parts))
        means = self._means.get(part) if len(parts) == 1 else None
        if means and (strength is None or means.get("any_strength")):
            return self._one_meant(text, recipe, doses, means)
        fitting = self._with_any_strength(parts)
        if fitting and not recipe.numbers:
            return _one_of(fitting, "Which strengths?", doses)
        return self._not_read(text, doses)

    def _one_meant(
        self, text: str, recipe: Recipe, doses: tuple[DoseWords, ...], means: Mapping[str, Any]
    ) -> FluidReading:
        """The entries a vague name may mean; a pH named picks among them."""
        fluids = tuple(fluid for fluid in map(self.catalogue.get, means["ids"]) if fluid)
        by_ph = tuple(f for f in fluids if any(_has_ph(f, number) for number in recipe.numbers))
        if recipe.numbers and not by_ph:
            return self._not_read(text, doses)
        if len(by_ph) == 1:
            return FluidReading(by_ph[0], doses=doses)
        return _one_of(by_ph or fluids, str(means["ask"]), doses)

    def _with_any_strength(self, parts: Parts) -> tuple[Fluid, ...]:
        """Entries of the same parts where a strength was left out ("5% dextrose in saline")."""
        if all(strength is not None for _, strength in parts):
            return ()
        asked = {_one_word(part): strength for part, strength in parts}
        return tuple(
            fluid
            for (known, kcl), fluid in self._parts.items()
            if kcl is None and len(known) == len(parts) and all(
                part in asked and asked[part] in (None, strength)
                for part, strength in ((_one_word(p), s) for p, s in known)
            )
        )  # fmt: skip

    def _not_read(self, text: str, doses: tuple[DoseWords, ...] = ()) -> FluidReading:
        """Nothing is guessed: the nearest names are offered as choices only."""
        near = process.extract(
            fold(text), [f.name for f in self.catalogue], limit=SUGGESTIONS,
            score_cutoff=SUGGEST_FROM,
        )  # fmt: skip
        choices = tuple(name for name, _, _ in near)
        return FluidReading(
            doses=doses, ask="Which fluid of the catalogue is this?", choices=choices
        )


def name_book(catalogue: Catalogue, vocabulary: Vocabulary) -> NameBook:
    """The catalogue's names in this vocabulary, made once and kept with the vocabulary."""
    key = f"names of {catalogue.version}"
    book = vocabulary.kept.get(key)
    if not isinstance(book, NameBook):
        book = vocabulary.kept[key] = NameBook(catalogue, vocabulary)
    return book


def _names_of(fluid: Fluid) -> Iterator[str]:
    yield fluid.name
    yield PARENTHESIS.sub("", fluid.name).strip()
    yield fluid.id
    if fluid.reference_id:
        yield fluid.reference_id
    yield from fluid.search_words


def _one_word(part: str) -> str:
    return "glucose" if part == "dextrose" else part


def _has_ph(fluid: Fluid, number: float) -> bool:
    return f"ph {number:g}" in fold(fluid.name) and "phosphate" not in fluid.name


def _one_of(fluids: tuple[Fluid, ...], ask: str, doses: tuple[DoseWords, ...] = ()) -> FluidReading:
    return FluidReading(
        candidates=fluids, doses=doses, ask=ask, choices=tuple(fluid.name for fluid in fluids)
    )


def _percent_doses_as_parts(recipe: Recipe) -> tuple[Parts, tuple[DoseWords, ...]]:
    """A concentrate named by strength alone ("calcium gluconate 10%") is a fluid of its own."""
    parts = set(recipe.parts)
    doses: list[DoseWords] = []
    for dose in recipe.doses:
        if dose.percent is not None and not parts and dose.quantity is None:
            parts.add((dose.key, dose.percent))
        else:
            doses.append(dose)
    return frozenset(parts), tuple(doses)


def _kcl_per_litre(dose: DoseWords, volume_ml: float | None) -> float | None:
    if dose.quantity is None:
        percent = dose.percent
        return None if percent is None else float(round(percent * KCL_MMOL_L_PER_PERCENT))
    if dose.quantity.unit not in ("mmol", "mEq", "") or dose.quantity.by_day:
        return None
    if dose.quantity.per_litre:
        return dose.quantity.number
    return dose.quantity.number if volume_ml == ONE_LITRE_ML else None
