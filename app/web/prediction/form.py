"""The form "What will it do?" as it stands: every field with what was written in it."""

from collections.abc import Iterable
from dataclasses import dataclass

from app.catalogue.catalogue import Catalogue
from app.patient.order import Order
from app.web.prediction.asked import Asked
from app.web.prediction.cautions import NONE_OF_THEM
from app.web.prediction.fields import (
    ACUTE,
    COUNTED,
    FIELDS,
    HORIZONS_H,
    INSULIN,
    LEFT_OUT,
    LONGER,
    LOSS_NUMBERS,
    OF_ONE_PATIENT,
    PERSON_NUMBERS,
    RESPONDS,
    RESULT,
    RESULT_NUMBERS,
    RUNS,
    SEXES,
    TICKS,
)
from app.web.prediction.person import Person
from app.web.show import amount, capital, number

# Results that come first; the rest stands with what is asked for less.
FIRST_RESULTS: tuple[str, ...] = ("sodium", "potassium", "chloride", "bicarbonate", "ph", "glucose")
NO_UNIT = "no unit"
ONSET = "Low or high sodium for"
PLACES = 2


@dataclass(frozen=True, slots=True)
class Input:
    """A number field. usual: what counts when nothing is written."""

    name: str
    word: str
    unit: str
    value: str
    usual: str = ""


@dataclass(frozen=True, slots=True)
class Select:
    """A field of choices, each a value and its words."""

    name: str
    word: str
    value: str
    options: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Box:
    """A tick."""

    name: str
    word: str
    ticked: bool


@dataclass(frozen=True, slots=True)
class Form:
    """Every field. more_open: something is written in the part that is folded away."""

    fluids: tuple[tuple[str, str], ...]
    patients: tuple[tuple[str, str], ...]
    horizon: Select
    onset: Select
    breathing: Select
    sex: Select
    instead: Select | None
    others: Select | None
    results: tuple[Input, ...]
    more_results: tuple[Input, ...]
    losses: tuple[Input, ...]
    then: tuple[Input, ...]
    ticks: tuple[Box, ...]
    insulin: Input
    insulin_runs: Box
    more_open: bool
    kept_from_others: str


def form_of(
    asked: Asked,
    person: Person,
    instead: Order | None,
    patients: tuple[tuple[str, str], ...],
    catalogue: Catalogue,
) -> Form:
    """The form with what was written. Results and ticks are for nobody of the unit alone."""
    losses = tuple(_input(asked, name, _usual(name, person)) for name in LOSS_NUMBERS)
    then = tuple(_input(asked, name) for name in ("potassium_then", "volume_then", "minutes_then"))
    more = tuple(_input(asked, RESULT + n) for n in RESULT_NUMBERS if n not in FIRST_RESULTS)
    *ticks, runs = (Box(t.name, t.word, bool(asked.typed.get(t.name))) for t in (*TICKS, RUNS))
    insulin = _input(asked, INSULIN)
    return Form(
        fluids=tuple((f.id, f.name) for f in catalogue if not f.never_hung),
        patients=patients,
        horizon=_horizon(asked),
        onset=_onset(asked, person),
        breathing=_select(asked, "breathing", "Breathing", {"": "as now", RESPONDS: "responds"}),
        sex=_select(asked, "sex", "Sex", {"": "not known", **{one: one for one in SEXES}}),
        instead=_instead(person, instead),
        others=_others(asked, person),
        results=tuple(_input(asked, RESULT + n) for n in FIRST_RESULTS),
        more_results=more,
        losses=losses,
        then=then,
        ticks=tuple(ticks),
        insulin=insulin,
        insulin_runs=runs,
        more_open=_more_open(asked, (*losses, *then, *more, insulin), (*ticks, runs)),
        kept_from_others=f"not {','.join(OF_ONE_PATIENT)}",
    )


def typed_words(asked: Asked) -> str:
    """A person as typed, in a line: figures with their units, then what was ticked."""
    words: list[str] = [asked.sex] if asked.sex else []
    for name in (*PERSON_NUMBERS, *(RESULT + name for name in RESULT_NUMBERS)):
        if name in asked.values:
            field = _input(asked, name)
            word = field.word.lower() if field.word[1:2].islower() else field.word
            words.append(f"{word} {amount(asked.values[name], field.unit, PLACES)}")
    words += [tick.word for tick in TICKS if asked.typed.get(tick.name)]
    return capital("; ".join(words))


def _input(asked: Asked, name: str, usual: str = "") -> Input:
    bounds = FIELDS[name]
    unit = "" if bounds.unit == NO_UNIT else bounds.unit
    return Input(name, bounds.word, unit, asked.typed.get(name, ""), usual)


def _usual(name: str, person: Person) -> str:
    if name != "urine" or person.urine_ml_h is None:
        return ""
    return number(person.urine_ml_h)


def _select(asked: Asked, name: str, word: str, options: dict[str, str]) -> Select:
    return Select(name, word, asked.chosen.get(name, ""), tuple(options.items()))


def _horizon(asked: Asked) -> Select:
    """How far to look; left alone, as far as the bag asks for."""
    own = (("", f"as the bag runs: {asked.horizon_h:g} h"),)
    options = (*own, *((h, f"{h} h") for h in HORIZONS_H))
    return Select("horizon", "Look ahead", asked.typed.get("horizon", ""), options)


def _onset(asked: Asked, person: Person) -> Select:
    """Since when sodium has been so; as recorded comes first where the record says."""
    short, longer = "under 48 h (acute)", "longer or not known"
    if not person.recorded_onset:
        return _select(asked, "onset", ONSET, {"": longer, ACUTE: short})
    options = {"": f"as recorded: {person.recorded_onset}", ACUTE: short, LONGER: longer}
    return _select(asked, "onset", ONSET, options)


def _instead(person: Person, instead: Order | None) -> Select | None:
    """Which order gives way to what is tried."""
    if not person.called or not person.orders:
        return None
    options = (*((order.id, order.called) for order in person.orders), (NONE_OF_THEM, "none"))
    value = NONE_OF_THEM if instead is None else instead.id
    return Select("instead", "In place of", value, options)


def _others(asked: Asked, person: Person) -> Select | None:
    if not person.called:
        return None
    options = {COUNTED: "counted", LEFT_OUT: "left out"}
    return _select(asked, "others", "What else runs", options)


def _more_open(asked: Asked, inputs: Iterable[Input], ticks: Iterable[Box]) -> bool:
    """Open where something in it was written: nothing that counts is hidden."""
    written = any(one.value for one in inputs) or any(box.ticked for box in ticks)
    chosen = any(asked.typed.get(name) for name in ("fluid_then", "height", "breathing"))
    return written or chosen
