"""A fluid's name as people write it: the one catalogue entry it means, or those it may mean."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, Final

from rapidfuzz import process

from app.catalogue.catalogue import Catalogue
from app.catalogue.fluid import Fluid
from app.intake.recipe import KCL, recipe_of
from app.intake.slips.ids import amount_at_end, is_id, spoken, ways_of_id
from app.intake.slips.whole_text import nearest
from app.intake.vocabulary import Vocabulary, fold
from app.intake.wording.known import KnownFluids, percent_doses_as_parts
from app.intake.wording.made_up import Doses, Parts, made_up
from app.intake.wording.parts import DoseWords, Recipe
from app.intake.wording.settled import settled
from app.intake.wording.strong import holding_of, strong_fluid
from app.intake.wording.usual import UNSAID, not_its_own, per_litre_of, per_litre_unsaid

SUGGEST_FROM: Final = 70.0
SUGGESTIONS: Final = 4
# A bag that pharmacy makes up, and no fluid of the catalogue.
MADE_UP: Final = "parenteral_nutrition"
KEPT_NAMES: Final = 5000
# A drug's small bag is made up in one of two fluids, and it seldom matters in which.
CARRIER_UP_TO_ML: Final = 250.0
NO_FLUID: Final = (
    "This is no fluid of the catalogue: what it holds is not read here. What does it hold in each"
    " litre?"
)


@dataclass(frozen=True, slots=True)
class FluidReading:
    """What a name means.

    fluid: the one entry; candidates: the entries it may mean when there is no one. doses: what
    the words add to the bag. ask: what to ask when in doubt, with choices. volume_ml: the volume
    named. is_unnamed: the words name what is added, and no fluid. base: for a premixed bag, the
    fluid that the words name beside its potassium; added: that potassium.
    """

    fluid: Fluid | None = None
    candidates: tuple[Fluid, ...] = ()
    doses: Doses = ()
    volume_ml: float | None = None
    ask: str = ""
    choices: tuple[str, ...] = ()
    is_unnamed: bool = False
    base: Fluid | None = None
    added: Doses = ()

    @property
    def is_read(self) -> bool:
        """True when the words name an entry, or entries to choose from."""
        return self.fluid is not None or bool(self.candidates)

    @property
    def is_told(self) -> bool:
        """True when every word has its meaning, if only that of something added."""
        return self.is_read or self.is_unnamed


class NameBook:
    """Every way a catalogue's fluids are named, for one vocabulary."""

    def __init__(self, catalogue: Catalogue, vocabulary: Vocabulary) -> None:
        self.catalogue = catalogue
        self.vocabulary = vocabulary
        self._known = KnownFluids(catalogue, vocabulary)
        self._read: dict[tuple[str, float | None, float | None], FluidReading] = {}

    def read(
        self, text: str, volume_ml: float | None = None, weight_kg: float | None = None
    ) -> FluidReading:
        """What a name means in an order of this volume, for a patient of this weight."""
        key = (text, volume_ml, weight_kg if "kg" in text else None)
        if key not in self._read:
            if len(self._read) >= KEPT_NAMES:
                self._read.clear()
            self._read[key] = self._meaning(*key)
        return self._read[key]

    def _meaning(self, text: str, volume_ml: float | None, weight_kg: float | None) -> FluidReading:
        """The meaning as written; where it has none, that of the words it is a slip of, or those
        of an id.
        """
        said = spoken(text)
        reading = self._as_written(said, volume_ml, weight_kg)
        if reading.is_read or reading.ask == NO_FLUID:
            return reading
        put_right = (*nearest(said, self.vocabulary), *ways_of_id(text, strength=not reading.doses))
        ways = [self._as_written(way, volume_ml, weight_kg) for way in put_right]
        ways = [way for way in dict.fromkeys(ways) if way.is_read]
        if not ways and is_id(text):
            return self._by_amount(said) or reading
        return ways[0] if len(ways) == 1 else reading

    def _by_amount(self, said: str) -> FluidReading | None:
        """The one fluid of a name that holds the amount it ends in: "saline 855"."""
        name, amount = amount_at_end(said) or ("", 0.0)
        recipe = recipe_of(name, self.vocabulary)
        if not name or not recipe.is_whole or recipe.doses:
            return None
        parts = frozenset((part, None) for part, _ in recipe.parts)
        holding = holding_of(self._known.with_any_strength(parts), amount)
        return FluidReading(holding[0]) if len(holding) == 1 else None

    def _as_written(
        self, text: str, volume_ml: float | None, weight_kg: float | None
    ) -> FluidReading:
        known = self._known.named(text)
        if len(known) == 1:
            return FluidReading(known[0])
        if len(known) > 1:
            return _one_of(known, "Which of these is hung?")
        recipe = settled(recipe_of(text, self.vocabulary), weight_kg)
        recipe = replace(recipe, parts=self._known.once(recipe.parts))
        named_ml = recipe.volumes_ml[0] if len(recipe.volumes_ml) == 1 else None
        reading = self._by_parts(text, recipe, volume_ml or named_ml)
        return reading if reading.volume_ml else replace(reading, volume_ml=named_ml)

    def _by_parts(self, text: str, recipe: Recipe, volume_ml: float | None) -> FluidReading:
        parts, doses = percent_doses_as_parts(recipe)
        kinds = {self._kind(dose) for dose in doses}
        if "made up" in kinds or (not parts and kinds & {"blood", "nutrition"}):
            return FluidReading(doses=tuple(d for d in doses if self._kind(d)), ask=NO_FLUID)
        strong = None if recipe.left else strong_fluid(recipe, self._known)
        if strong:
            return FluidReading(strong[0], volume_ml=strong[1])
        if recipe.left or recipe.spare or len(recipe.volumes_ml) > 1:
            return self._not_read(text, doses)
        if recipe.numbers:
            return self._ambiguous(text, recipe, parts, doses)
        if volume_ml is None and parts:
            return self._of_no_volume(text, recipe, parts, doses)
        return (
            self._definite(parts, doses, volume_ml)
            or self._in_a_carrier(parts, doses, volume_ml)
            or self._ambiguous(text, recipe, parts, doses)
        )

    def _kind(self, dose: DoseWords) -> str:
        """What a dose is: "made up" for nutrition, "nutrition" for a part of it, "blood", "drug";
        "" for an ion without its salt, which nutrition need not name.
        """
        if dose.key == MADE_UP:
            return "made up"
        entry = self.vocabulary.tables["drugs"]["drug"].get(dose.key, {})
        return "" if dose.key in ("calcium", "phosphate") else str(entry.get("kind", "drug"))

    def _of_no_volume(self, text: str, recipe: Recipe, parts: Parts, doses: Doses) -> FluidReading:
        """A bag whose volume nobody says. A factory-made one leaves no doubt; else it is asked
        whether an amount is that of each litre.
        """
        spread = per_litre_unsaid(doses)
        reading = self._definite(parts, spread, None)
        if reading is None:
            return self._ambiguous(text, recipe, parts, spread)
        doubt = UNSAID if spread != doses and not reading.added else ""
        return replace(reading, ask=doubt)

    def _definite(self, parts: Parts, doses: Doses, volume_ml: float | None) -> FluidReading | None:
        """The one entry of these parts, or a strength made up from one."""
        premixed = self._premixed(parts, doses, volume_ml)
        fluid = self._known.one(parts, None)
        if premixed:
            return FluidReading(premixed, base=fluid, added=doses)
        if fluid:
            return FluidReading(fluid, doses=not_its_own(doses, fluid))
        mixed = made_up(parts, self._known.one)
        return FluidReading(mixed[0], doses=(*mixed[1], *doses)) if mixed else None

    def _premixed(self, parts: Parts, doses: Doses, volume_ml: float | None) -> Fluid | None:
        """The factory-made bag with this potassium in each litre, where the catalogue has it."""
        if len(doses) != 1 or doses[0].key != KCL or doses[0].also:
            return None
        per_litre = per_litre_of(doses[0], volume_ml)
        return None if per_litre is None else self._known.one(parts, per_litre)

    def _in_a_carrier(
        self, parts: Parts, doses: Doses, volume_ml: float | None
    ) -> FluidReading | None:
        """A drug in a small bag of which the words do not say what it is: judged as each."""
        if parts or not doses or volume_ml is None or volume_ml > CARRIER_UP_TO_ML:
            return None
        usual = self.vocabulary.tables["fluids"]["carriers"]
        reading = _one_of(self._known.listed(usual["ids"]), str(usual["ask"]), doses)
        return replace(reading, is_unnamed=True)

    def _ambiguous(self, text: str, recipe: Recipe, parts: Parts, doses: Doses) -> FluidReading:
        """Several entries may be meant, or none: asked about, never guessed."""
        if not parts:
            carried = doses and not recipe.numbers
            ask = "In which fluid, and in what volume?"
            if carried:
                return FluidReading(doses=doses, ask=ask, is_unnamed=True)
            return self._not_read(text, doses)
        part, strength = next(iter(parts))
        means = self._known.means.get(part) if len(parts) == 1 else None
        if means and (strength is None or means.get("any_strength")):
            return self._one_meant(text, recipe, doses, means)
        if means and strength is not None and not recipe.numbers:
            near = self._known.either_side(part, strength)
            if near:
                return _one_of(near, str(means["ask"]), doses)
        fitting = self._known.with_any_strength(parts)
        if len(fitting) == 1 and not recipe.numbers:
            return FluidReading(fitting[0], doses=doses)
        if fitting and not recipe.numbers:
            return _one_of(fitting, "Which strengths?", doses)
        return self._not_read(text, doses)

    def _one_meant(
        self, text: str, recipe: Recipe, doses: Doses, means: Mapping[str, Any]
    ) -> FluidReading:
        """The entries a vague name may mean; a pH named picks among them."""
        fluids = self._known.listed(means["ids"])
        by_ph = tuple(f for f in fluids if any(_has_ph(f, number) for number in recipe.numbers))
        if recipe.numbers and not by_ph:
            return self._not_read(text, doses)
        if len(by_ph) == 1:
            return FluidReading(by_ph[0], doses=doses)
        return _one_of(by_ph or fluids, str(means["ask"]), doses)

    def _not_read(self, text: str, doses: Doses = ()) -> FluidReading:
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


def _has_ph(fluid: Fluid, number: float) -> bool:
    return f"ph {number:g}" in fold(fluid.name) and "phosphate" not in fluid.name


def _one_of(fluids: tuple[Fluid, ...], ask: str, doses: Doses = ()) -> FluidReading:
    return FluidReading(
        candidates=fluids, doses=doses, ask=ask, choices=tuple(fluid.name for fluid in fluids)
    )
