"""What each quantity begins with: a result, an old one, one worked out, or one that is assumed.

What nobody measured is never shown as if somebody had; what a rule asks for, or what is on record
contradicts, is not shown at all. Pure.
"""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Final

from app.physiology.course.body import Subject
from app.web.prediction.person import Person
from app.web.show import capital, name_text, number

ASSUMED: Final = "assumed"
WORKED_OUT: Final = "worked out"
BY_SIZE: Final = "by size"
GAS_PLACES: Final = MappingProxyType({"bicarbonate_mmol_l": 1, "ph": 2})
NOT_PREDICTED: Final = "Not predicted."
NO_RESULT: Final = "no result"
# Results that a series may begin with, the best first.
RESULTS: Final[Mapping[str, tuple[str, ...]]] = MappingProxyType(
    {
        "sodium_mmol_l": ("sodium",),
        "potassium_mmol_l": ("potassium",),
        "chloride_mmol_l": ("chloride",),
        "bicarbonate_mmol_l": ("bicarbonate",),
        "ph": ("ph",),
        "glucose_mmol_l": ("glucose",),
        "osmolality_mosm_kg": ("osmolality",),
        "haematocrit": ("haematocrit",),
    }
)
# Sets of other results that it can be worked out from.
WORKED_FROM: Final[Mapping[str, tuple[frozenset[str], ...]]] = MappingProxyType(
    {
        "bicarbonate_mmol_l": (frozenset({"ph", "pco2"}), frozenset({"ph", "base_excess"})),
        "ph": (frozenset({"bicarbonate", "pco2"}),),
        "osmolality_mosm_kg": (frozenset({"sodium", "glucose"}),),
        "haematocrit": (frozenset({"haemoglobin"}),),
    }
)
# What moves with what: an assumed one stands or falls with the other.
FOLLOWS: Final[Mapping[str, str]] = MappingProxyType(
    {
        "chloride_mmol_l": "sodium_mmol_l",
        "osmolality_mosm_kg": "sodium_mmol_l",
        "ph": "bicarbonate_mmol_l",
    }
)
SODIUM_OFF: Final = (
    "hyponatraemia", "acute_hyponatraemia", "chronic_hyponatraemia", "siadh",
    "severe_hyponatraemia_symptoms", "hypernatraemia", "acute_hypernatraemia",
    "chronic_hypernatraemia", "diabetes_insipidus",
)  # fmt: skip
ACID_OFF: Final = (
    "diabetic_ketoacidosis", "metabolic_acidosis", "lactic_acidosis", "hyperchloraemic_acidosis",
    "renal_tubular_acidosis", "metabolic_alkalosis", "bicarbonate_loss", "pyloric_stenosis",
    "salicylate_poisoning",
)  # fmt: skip
# Conditions on record under which a usual value is not to be believed.
CONTRADICTED: Final[Mapping[str, tuple[str, ...]]] = MappingProxyType(
    {
        "sodium_mmol_l": SODIUM_OFF,
        "potassium_mmol_l": (
            "hyperkalaemia", "hypokalaemia", "severe_kidney_failure", "anuria", "dialysis",
            "diabetic_ketoacidosis", "rhabdomyolysis", "tumour_lysis",
        ),
        "bicarbonate_mmol_l": ACID_OFF,
        "ph": ACID_OFF,
        "glucose_mmol_l": (
            "diabetic_ketoacidosis", "hyperosmolar_state", "hypoglycaemia", "hyperglycaemia",
        ),
        "haematocrit": ("haemorrhage", "massive_transfusion"),
    }
)  # fmt: skip
MOVED_BY_INSULIN: Final = ("potassium_mmol_l", "glucose_mmol_l")
INSULIN_RUNS: Final = "insulin runs and is not counted here"


@dataclass(frozen=True, slots=True)
class Standing:
    """word: said beside "now"; empty for a result. why_none: said in place of a line."""

    word: str = ""
    why_none: str = ""

    @property
    def is_assumed(self) -> bool:
        """True for what nobody measured and nothing measured gives."""
        return self.word == ASSUMED


@dataclass(frozen=True, slots=True)
class Asking:
    """results: those that a rule asks for and lacks. insulin: some runs that is not counted.

    warned: ids of the rules that speak of a bag, by its mark.
    """

    results: frozenset[str] = frozenset()
    insulin: bool = False
    warned: Mapping[str, frozenset[str]] = field(default_factory=lambda: MappingProxyType({}))


NOTHING_ASKED: Final = Asking()


def standings(
    keys: Collection[str], subject: Subject, person: Person, asking: Asking = NOTHING_ASKED
) -> Mapping[str, Standing]:
    """Every series by its key."""
    found = {key: _standing(key, subject, person, asking) for key in keys}
    for key, other in FOLLOWS.items():
        if key in found and other in found and found[key].is_assumed:
            why = found[key].why_none or found[other].why_none
            found[key] = Standing(found[key].word, why)
    if found.get("sodium_mmol_l", Standing()).why_none and "osmolality_mosm_kg" in found:
        found["osmolality_mosm_kg"] = Standing(ASSUMED, found["sodium_mmol_l"].why_none)
    return MappingProxyType(found)


def _standing(key: str, subject: Subject, person: Person, asking: Asking) -> Standing:
    names = RESULTS.get(key)
    if names is None:
        return Standing(ASSUMED if person.weight_kg is None else BY_SIZE)
    word = _word(key, names, subject, person)
    if asking.insulin and key in MOVED_BY_INSULIN:
        return Standing(word, INSULIN_RUNS)
    known = not word or word.startswith(WORKED_OUT)
    return Standing(word, "" if known else _why_none(key, names[0], person, asking))


def _word(key: str, names: tuple[str, ...], subject: Subject, person: Person) -> str:
    usable = person.results.keys() - person.old.keys()
    if names[0] in usable:
        return _gas_word(key, subject, person)
    if any(others <= usable for others in WORKED_FROM.get(key, ())):
        return WORKED_OUT
    if names[0] in person.old and names[0] in person.results:
        return f"{person.old[names[0]]} old"
    return ASSUMED


def _gas_word(key: str, subject: Subject, person: Person) -> str:
    """A figure of a gas that the others move: what is drawn is not the result."""
    drawn = {"bicarbonate_mmol_l": subject.bicarbonate_mmol_l, "ph": subject.ph}.get(key)
    places = GAS_PLACES.get(key, 0)
    result = person.results.get(RESULTS[key][0])
    if drawn is None or result is None or number(drawn, places) == number(result, places):
        return ""
    return f"{WORKED_OUT}; result {number(result, places)}"


def _why_none(key: str, name: str, person: Person, asking: Asking) -> str:
    """Why a series with no usable result is not shown; empty where it may be."""
    if name in person.old:
        lacks = f"{NO_RESULT} in time (the last, {number(person.results.get(name), 2)}, is "
        lacks += f"{person.old[name]} old)"
    else:
        lacks = NO_RESULT
    against = [one for one in CONTRADICTED.get(key, ()) if one in person.conditions]
    if against and name not in person.old:
        return f"{lacks}, and {against[0].replace('_', ' ')} is on record"
    return lacks if name in asking.results else ""


def unpredicted_words(named: Mapping[str, str], found: Mapping[str, Standing]) -> tuple[str, ...]:
    """What is not drawn and why, a sentence for each reason. named: how the page calls a series."""
    by_why: dict[str, list[str]] = {}
    for key, name in named.items():
        if why := found[key].why_none:
            by_why.setdefault(why, []).append(name)
    return tuple(f"{_together(names)}: {why}. {NOT_PREDICTED}" for why, names in by_why.items())


def _together(names: list[str]) -> str:
    first, *rest = names
    lowered = [name if name[:1].islower() else name.lower() for name in rest]
    return " and ".join(filter(None, [", ".join([first, *lowered[:-1]]), *lowered[-1:]]))


def basis_words(person: Person, found: Mapping[str, Standing], named: Mapping[str, str]) -> str:
    """What was given and what is assumed, in two sentences that can be read aloud."""
    told = [
        word
        for word, value in (
            ("weight", person.weight_kg), ("age", person.age_years), ("height", person.height_cm),
            ("sex", person.sex),
        )
        if value is not None
    ]  # fmt: skip
    told += [name_text(name) for name in person.results if name not in person.old]
    old = [name_text(name) for name in person.old if name in person.results]
    lacking = [name for key, name in named.items() if found[key].is_assumed]
    sized = ["weight"] if person.weight_kg is None else []
    taken = [*sized, *(n if n[:2] == "pH" else n.lower() for n in lacking)]
    first = "On record" if person.called else "Typed"
    said = f"{first}: {', '.join(told) or 'nothing'}."
    said += f" Old: {', '.join(old)}." if old else ""
    return f"{said} {capital(ASSUMED)}: {', '.join(taken)}." if taken else said
