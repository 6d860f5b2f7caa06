"""What is lost, as typed or as measured, and what else is and is not counted, in words."""

from collections.abc import Iterator, Mapping
from typing import Final

from app.physiology.course.body import is_scant
from app.physiology.course.loads import LOST, Loss, LossKind
from app.review.running.loads import Running
from app.web.prediction.asked import Asked
from app.web.prediction.person import Person
from app.web.show import amount

NO_URINE: Final = (
    "Urine is not counted: the curve lets kidneys pass what they pass of their own. Type it to "
    "count."
)
NOT_DRUNK: Final = "Drinking is not counted."
NOTHING_BESIDES: Final = (
    "Drinking and other fluids are not counted: where they make up for urine, volumes fall less "
    "than is shown."
)
NO_URINE_AT_ALL: Final = "No urine: nothing is passed. Potassium may rise more than shown."
BESIDES: Final[Mapping[LossKind, str]] = {
    "gastric": "gastric", "blood": "blood", "insensible": "insensible"
}  # fmt: skip
# Beyond these sodium is off, mmol/L: what urine carries away then decides where it goes.
SODIUM_USUAL: Final = (135.0, 145.0)
SALTS: Final = (("urine_sodium", "sodium"), ("urine_potassium", "potassium"))


def is_off(sodium_mmol_l: float | None) -> bool:
    """A sodium that is known and not usual."""
    low, high = SODIUM_USUAL
    return sodium_mmol_l is not None and not low <= sodium_mmol_l <= high


def urine_of(person: Person) -> float | None:
    """Urine that is counted, mL/h: as typed or scant; on record also where sodium is off."""
    if person.urine_ml_h is not None or person.snapshot is None:
        return person.urine_ml_h
    return person.snapshot.urine_ml_h if is_off(person.results.get("sodium")) else None


def urine_salt_known(asked: Asked, person: Person) -> bool:
    """True where what urine holds was typed, or measured."""
    return any(_salt(name, asked, person) is not None for name, _ in SALTS)


def _salt(name: str, asked: Asked, person: Person) -> float | None:
    """mmol in a litre of urine, as typed, or else as measured."""
    if name in asked.values or person.snapshot is None:
        return asked.values.get(name)
    return person.snapshot.value_or_none(name)


def losses_of(asked: Asked, person: Person) -> tuple[Loss, ...]:
    """Everything that is lost all the time."""
    return tuple(_losses(asked, person))


def _losses(asked: Asked, person: Person) -> Iterator[Loss]:
    values = asked.values
    urine = urine_of(person)
    if urine is not None:
        sodium, potassium = (_salt(name, asked, person) for name, _ in SALTS)
        yield Loss("urine", urine, sodium, potassium)
    for kind in BESIDES:
        if values.get(kind):
            yield Loss(kind, values[kind])


def losses_words(asked: Asked, person: Person, beside: Running) -> str:
    """What of them is counted, and what follows from it. beside: what else runs and is counted."""
    lost = [
        f"{word} {amount(asked.values[kind], 'mL/h')}"
        for kind, word in BESIDES.items()
        if asked.values.get(kind)
    ]
    said = f" Lost besides: {', '.join(lost)}." if lost else ""
    urine = urine_of(person)
    if urine is None:
        return f"{NO_URINE}{said}{_not_used(asked)}"
    if not urine:
        return f"{NO_URINE_AT_ALL}{said}"
    words = (
        f"Urine is counted as {amount(urine, 'mL/h')} throughout{_holding(asked, person)}.{said}"
    )
    if is_scant(urine, person.weight_kg):
        return words
    return f"{words} {NOT_DRUNK if beside.loads else NOTHING_BESIDES}"


def _holding(asked: Asked, person: Person) -> str:
    """What a litre of urine takes along, as typed or measured, or as is usual."""
    known = [
        f"{word} {amount(salt, 'mmol/L')}"
        for name, word in SALTS
        if (salt := _salt(name, asked, person)) is not None
    ]
    usual = LOST["urine"]
    rest = f"sodium {usual.sodium:g} and potassium {usual.potassium:g} mmol/L, as is usual"
    return f", with {' and '.join(known) or rest}"


def _not_used(asked: Asked) -> str:
    named = "urine_sodium" in asked.values or "urine_potassium" in asked.values
    return " What urine holds counts once its mL/h are typed." if named else ""
