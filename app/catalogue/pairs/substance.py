"""What runs, as facts name it: a drug, a fluid by what it holds, or a bag by its parts."""

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cache
from operator import attrgetter
from typing import Final, Literal

from app.catalogue.fluid import Fluid
from app.chemistry.composition import Composition

MARKS: Final = {
    "calcium": "calcium_mmol_l", "potassium": "potassium_mmol_l", "magnesium": "magnesium_mmol_l",
    "phosphate": "phosphate_mmol_l", "bicarbonate": "bicarbonate_mmol_l", "glucose": "glucose_g_l",
}  # fmt: skip
_held: Final[Callable[[Composition], tuple[float, ...]]] = attrgetter(*MARKS.values())
# A crystalloid that holds none of these mixes with any other such (see fluids.toml).
PLAIN_FLUID: Final = "plain fluid"
NOT_PLAIN: Final = (
    "bicarbonate_mmol_l", "phosphate_mmol_l", "sulfate_mmol_l", "citrate_mmol_l", "albumin_g_l",
    "gelatin_g_l", "starch_g_l", "mannitol_g_l",
)  # fmt: skip
# What follows the salt in a fluid's id.
STRENGTH: Final = re.compile(r"-(?:\d.*|concentrate)$")
# A bag made up by the factory from another fluid of the catalogue and potassium chloride.
PREMIXED: Final = re.compile(r"potassium-chloride-\d+-(?P<base>.+)")
POTASSIUM_CHLORIDE: Final = "potassium_chloride"
# A concentrate, or water: it is never hung as it is.
NEVER_HUNG: Final = "never hung"
# Words that name many things of a kind, and so no two bags of one thing.
CLASSES: Final = frozenset(
    {
        *MARKS, PLAIN_FLUID, "blood", "vasoactive", "opioid", "aminoglycoside",
        "neuromuscular_blocker", "penicillins", "cephalosporin",
    }
)  # fmt: skip
# How closely a word of a fact names a substance.
CLOSELY: Final = 2
BY_MARK: Final = 1
BY_KIND: Final = 0
Kind = Literal["any drug", "any fluid"]


@dataclass(frozen=True, slots=True)
class Substance:
    """What runs, as facts name it: by its own names first, by its marks next, by kind last.

    parts: of a bag that holds several things, each by itself; facts are sought of each. is_carrier:
    a drug's own diluent, of which only what may never meet is asked. key: the name by which a
    local note or the list of gaps knows it, a drug's key or a fluid's id.
    """

    names: frozenset[str]
    marks: frozenset[str] = frozenset()
    kind: Kind = "any drug"
    key: str = ""
    parts: tuple["Substance", ...] = ()
    is_carrier: bool = False

    def ranks(self) -> Mapping[str, int]:
        """Every word a fact may use for it, with how closely it names it: 2, 1 or 0."""
        return {
            self.kind: BY_KIND,
            **dict.fromkeys(self.marks, BY_MARK),
            **dict.fromkeys(self.names, CLOSELY),
        }

    def each(self) -> tuple["Substance", ...]:
        """The things of which facts are sought one by one: its parts, or itself."""
        return self.parts or (self,)

    @property
    def is_class(self) -> bool:
        """True for anything of a kind ("calcium"), of which no two need be one thing."""
        return self.key in CLASSES

    @property
    def is_never_hung(self) -> bool:
        """True for a concentrate or water asked about as it is; as a carrier it was made up."""
        return NEVER_HUNG in self.marks and not self.is_carrier

    def is_same(self, other: "Substance") -> bool:
        """True when both are one thing by name: a bag of it with another of it."""
        return not self.names.isdisjoint(other.names)


def drug_substance(key: str, marks: Iterable[str] = (), kind: Kind = "any drug") -> Substance:
    """A drug, blood component or nutrition by its key; without a key nothing names it."""
    names = frozenset({key} if key else ())
    return Substance(names, frozenset(marks) - names, kind, key)


@cache
def fluid_substance(fluid: Fluid) -> Substance:
    """A fluid of the catalogue; a premixed bag as its potassium and its base fluid, a concentrate
    as what is never hung.
    """
    whole = Substance(names_of(fluid.id), marks_of(fluid.composition), "any fluid", fluid.id)
    if fluid.never_hung:
        return replace(whole, marks=whole.marks | {NEVER_HUNG})
    premixed = PREMIXED.fullmatch(fluid.id)
    if premixed:
        base = premixed["base"]
        rest = whole.marks - {"potassium"} | {PLAIN_FLUID}
        salt = drug_substance(POTASSIUM_CHLORIDE, {"potassium"})
        return replace(whole, parts=(Substance(names_of(base), rest, "any fluid", base), salt))
    if is_plain(fluid):
        return replace(whole, marks=whole.marks | {PLAIN_FLUID})
    return whole


def bag_of(base: Substance, additives: Iterable[Substance]) -> Substance:
    """A fluid with what was put into it, each part by itself."""
    added = tuple(additives)
    if not added:
        return base
    parts = (*base.each(), *added)
    names = frozenset(name for part in parts for name in part.names)
    marks = frozenset(mark for part in parts for mark in part.marks)
    return Substance(names, marks - names, "any fluid", base.key, parts)


def made_up_in(drug: Substance, diluent: Substance) -> Substance:
    """A drug with the fluid that carries it."""
    carriers = tuple(replace(part, is_carrier=True) for part in diluent.each())
    return replace(drug, parts=(replace(drug, parts=()), *carriers))


def is_plain(fluid: Fluid) -> bool:
    """True for a crystalloid of which nothing falls out with another: see NOT_PLAIN."""
    held = (getattr(fluid.composition, name) or 0 for name in NOT_PLAIN)
    return fluid.kind == "crystalloid" and not fluid.never_hung and not any(held)


@cache
def names_of(fluid_id: str) -> frozenset[str]:
    """The id and its salt ("sodium_bicarbonate"); glucose and dextrose are one thing in a line."""
    salt = STRENGTH.sub("", fluid_id).replace("-", "_")
    return frozenset({fluid_id, fluid_id.replace("glucose-", "dextrose-"), salt})


def marks_of(mix: Composition | None) -> frozenset[str]:
    """What a fluid holds that facts speak of."""
    if mix is None:
        return frozenset()
    return frozenset(mark for mark, held in zip(MARKS, _held(mix), strict=True) if held > 0)
