"""The catalogue's fluids by name, by parts, and by the vague words they may be meant with."""

import re
from collections.abc import Iterator, Mapping
from typing import Any, Final

from app.catalogue.catalogue import Catalogue
from app.catalogue.fluid import Fluid
from app.intake.recipe import recipe_of
from app.intake.vocabulary import Vocabulary, plain_words, words_of
from app.intake.wording.made_up import Doses, Parts, one_word
from app.intake.wording.parts import Recipe

PARENTHESIS: Final = re.compile(r"\s*\([^)]*\)")
CONCENTRATE: Final = re.compile(r"\s*\bconcentrate\b(?:, [\d.]+ mmol/mL)?")
# Two strengths so near that a name between them is judged as both.
NEAR_STRENGTHS: Final = 1.3
WATER: Final = ("sterile_water", None)
Named = tuple[tuple[str, float | None], ...]


class KnownFluids:
    """Every fluid of a catalogue as one vocabulary names it."""

    def __init__(self, catalogue: Catalogue, vocabulary: Vocabulary) -> None:
        self.catalogue = catalogue
        self.vocabulary = vocabulary
        self.means: Mapping[str, Mapping[str, Any]] = vocabulary.tables["fluids"]["means"]
        self._same: Mapping[str, str] = vocabulary.tables["fluids"]["same"]
        self._suspended = frozenset(vocabulary.tables["fluids"]["suspended"])
        self._names: dict[tuple[str, ...], list[Fluid]] = {}
        self._parts: dict[tuple[Parts, float | None], Fluid] = {}
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
        parts, doses = percent_doses_as_parts(recipe)
        vague = any(part in self.means for part, strength in parts if strength is None)
        if not recipe.is_whole or vague or not parts or len(doses) > 1:
            return
        kcl = doses[0].quantity.number if doses and doses[0].quantity else None
        self._parts.setdefault((parts, kcl), fluid)

    def named(self, text: str) -> tuple[Fluid, ...]:
        """The fluids that go by exactly this name."""
        return tuple(self._names.get(plain_words(words_of(text)), ()))

    def one(self, parts: Parts, kcl: float | None) -> Fluid | None:
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

    def concentrate(self, key: str, percent: float) -> Fluid | None:
        """The ampoule of a salt in this strength."""
        names = (key, key.removeprefix("sodium_"))
        found = (self.one(frozenset({(name, percent)}), None) for name in names)
        return next(filter(None, found), None)

    def listed(self, ids: list[str]) -> tuple[Fluid, ...]:
        """The fluids of a list of the vocabulary that the catalogue has."""
        return tuple(fluid for fluid in map(self.catalogue.get, ids) if fluid)

    def with_any_strength(self, parts: Parts) -> tuple[Fluid, ...]:
        """Entries of the same parts where a strength was left out ("5% dextrose in saline")."""
        if all(strength is not None for _, strength in parts):
            return ()
        asked = {one_word(part): strength for part, strength in parts}
        return tuple(
            fluid
            for (known, kcl), fluid in self._parts.items()
            if kcl is None and len(known) == len(parts) and all(
                part in asked and asked[part] in (None, strength)
                for part, strength in ((one_word(p), s) for p, s in known)
            )
        )  # fmt: skip

    def either_side(self, part: str, strength: float) -> tuple[Fluid, ...]:
        """The two strengths between which one lies that no bag has, where they are near."""
        known = {
            s: fluid
            for (parts, kcl), fluid in self._parts.items()
            for p, s in parts
            if kcl is None and len(parts) == 1 and p == part and s is not None
        }
        weaker, stronger = [s for s in known if s < strength], [s for s in known if s > strength]
        if not weaker or not stronger or min(stronger) > NEAR_STRENGTHS * max(weaker):
            return ()
        return known[max(weaker)], known[min(stronger)]

    def once(self, parts: Named) -> Named:
        """The parts without a word for what is named better beside it: "Ringer's (Hartmann's)"."""
        if len(parts) == 1:
            return parts
        words = [word for word, _ in parts]
        named = [part for part in parts if self._same.get(part[0]) not in words]
        if any(strength is not None for _, strength in named):
            named = [part for part in named if part != WATER]
        if any(word in self._suspended for word, _ in named):
            named = [part for part in named if part[0] in self._suspended]
        for vague in [word for word, strength in named if strength is None and word in self.means]:
            rest = [part for part in named if part[0] != vague]
            fluid = self.one(frozenset(rest), None)
            ids = self.means[vague]["ids"]
            if fluid and (not ids or fluid.id in ids):
                named = rest
        return tuple(named)


def percent_doses_as_parts(recipe: Recipe) -> tuple[Parts, Doses]:
    """A concentrate named by strength alone ("calcium gluconate 10%") is a fluid of its own."""
    parts = set(recipe.parts)
    doses = []
    for dose in recipe.doses:
        if dose.percent is not None and not parts and dose.quantity is None:
            parts.add((dose.key, dose.percent))
        else:
            doses.append(dose)
    return frozenset(parts), tuple(doses)


def _names_of(fluid: Fluid) -> Iterator[str]:
    yield fluid.name
    yield PARENTHESIS.sub("", fluid.name).strip()
    yield fluid.id
    if fluid.reference_id:
        yield fluid.reference_id
    yield from fluid.search_words
