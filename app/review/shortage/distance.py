"""How far two fluids are from each other by what a litre of each holds. Pure."""

from dataclasses import dataclass
from typing import Final

from app.chemistry.composition import Composition

FORMULA: Final = "the sum, over all that a litre holds, of weight × difference"
# Whose weights these are is said wherever a distance is shown.
WHOSE: Final = (
    "The weights are ours, no source: a difference of 1 mmol/L in potassium or calcium matters "
    "more at the bedside than one in sodium. The distance only ranks; the review decides."
)


@dataclass(frozen=True, slots=True)
class Weight:
    """What one unit of difference in one thing counts: its key, name, unit, and the weight."""

    key: str
    name: str
    unit: str
    weight: float


# Ours, no source. Salts of small range count most; bases stand for each other in part; sugar and
# colloids by their grams, so that they part what is not of one sort.
WEIGHTS: Final = (
    Weight("sodium", "sodium", "mmol/L", 1.0),
    Weight("chloride", "chloride", "mmol/L", 1.0),
    Weight("potassium", "potassium", "mmol/L", 8.0),
    Weight("calcium", "calcium", "mmol/L", 20.0),
    Weight("magnesium", "magnesium", "mmol/L", 10.0),
    Weight("phosphate", "phosphate", "mmol/L", 5.0),
    Weight("bicarbonate", "bicarbonate", "mmol/L", 0.5),
    Weight("lactate", "lactate", "mmol/L", 0.5),
    Weight("acetate", "acetate", "mmol/L", 0.5),
    Weight("gluconate", "gluconate", "mmol/L", 0.5),
    Weight("malate", "malate", "mmol/L", 0.5),
    Weight("citrate", "citrate", "mmol/L", 0.5),
    Weight("sulfate", "sulfate", "mmol/L", 0.5),
    Weight("glucose", "glucose", "g/L", 2.0),
    Weight("albumin", "albumin", "g/L", 5.0),
    Weight("gelatin", "gelatin", "g/L", 5.0),
    Weight("starch", "hydroxyethyl starch", "g/L", 5.0),
    Weight("mannitol", "mannitol", "g/L", 5.0),
)
# A label's two decimals.
LEAST: Final = 0.005


@dataclass(frozen=True, slots=True)
class Term:
    """One thing in which two fluids differ: how much each holds, and what that counts."""

    weight: Weight
    first: float
    second: float

    @property
    def value(self) -> float:
        """Its part of the distance."""
        return self.weight.weight * abs(self.first - self.second)


@dataclass(frozen=True, slots=True)
class Distance:
    """A distance with its parts, the largest first. left_out: what a label does not tell."""

    terms: tuple[Term, ...]
    left_out: tuple[str, ...] = ()

    @property
    def value(self) -> float:
        """The sum of its parts; 0 for two fluids that hold the same."""
        return sum(term.value for term in self.terms)


def distance(first: Composition, second: Composition) -> Distance:
    """How far two compositions are apart: weighted differences added up (weights: ours).

    Zero for itself, the same both ways, and never more by a detour, as long as both labels tell
    everything. What one does not tell (the chloride of some albumins) is left out and named.
    """
    terms, left_out = [], []
    for weight in WEIGHTS:
        one, other = _held(first, weight), _held(second, weight)
        if one is None or other is None:
            left_out.append(weight.name)
        elif abs(one - other) >= LEAST:
            terms.append(Term(weight, one, other))
    return Distance(tuple(sorted(terms, key=_largest)), tuple(left_out))


def _held(composition: Composition, weight: Weight) -> float | None:
    if weight.key == "glucose":
        return composition.glucose_anhydrous_g_l
    field = f"{weight.key}_{'g_l' if weight.unit == 'g/L' else 'mmol_l'}"
    held: float | None = getattr(composition, field)
    return held


def _largest(term: Term) -> tuple[float, str]:
    return -term.value, term.weight.key
