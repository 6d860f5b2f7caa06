"""A fluid's name taken apart: base parts with their strengths, doses added, words left over."""

from dataclasses import dataclass

from app.intake.orders.quantities import Quantity
from app.intake.vocabulary import Hit


@dataclass(frozen=True, slots=True)
class DoseWords:
    """Something added, as written: the vocabulary's key, its amount, its strength.

    The strength is in percent, or in mmol in each mL. also: the amount said a second time, in
    another unit ("2 g (8 mmol)"). poured: the mL drawn up, where the amount is said otherwise.
    """

    key: str
    quantity: Quantity | None
    percent: float | None
    as_written: str
    mmol_ml: float | None = None
    also: Quantity | None = None
    poured: Quantity | None = None


@dataclass(frozen=True, slots=True)
class Recipe:
    """What a name is made of.

    parts: each base part with its strength in percent, None when not said. volumes_ml: volumes
    named. numbers: bare numbers left over. spare: amounts that belong to nothing named. left:
    words that mean nothing here.
    """

    parts: tuple[tuple[str, float | None], ...] = ()
    doses: tuple[DoseWords, ...] = ()
    volumes_ml: tuple[float, ...] = ()
    numbers: tuple[float, ...] = ()
    left: tuple[str, ...] = ()
    spare: tuple[Quantity, ...] = ()

    @property
    def is_whole(self) -> bool:
        """True when every word has its place."""
        return not (self.left or self.numbers or self.spare)


@dataclass(frozen=True, slots=True)
class Phrase:
    """A known phrase: a fluid's part, or a drug; the text it was read from."""

    hit: Hit
    is_fluid: bool
    text: str


Item = Quantity | Phrase | str
