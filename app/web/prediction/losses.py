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
    "Urine is not counted: kidneys are taken to pass excess as in health. Type it to count."
)
NOT_DRUNK: Final = "Drinking is not counted."
NOTHING_BESIDES: Final = (
    "Drinking and other fluids are not counted: where they make up for urine, volumes fall less "
    "than is shown."
)
BESIDES: Final[Mapping[LossKind, str]] = {
    "gastric": "gastric", "blood": "blood", "insensible": "unseen"
}  # fmt: skip


def losses_of(asked: Asked, person: Person) -> tuple[Loss, ...]:
    """Everything that is lost all the time."""
    return tuple(_losses(asked, person))


def _losses(asked: Asked, person: Person) -> Iterator[Loss]:
    values = asked.values
    if person.urine_ml_h is not None:
        salts = values.get("urine_sodium"), values.get("urine_potassium")
        yield Loss("urine", person.urine_ml_h, *salts)
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
    urine = person.urine_ml_h
    if urine is None:
        return f"{NO_URINE}{said}{_not_used(asked)}"
    words = f"Urine is counted as {amount(urine, 'mL/h')} throughout{_holding(asked)}.{said}"
    if is_scant(urine, person.weight_kg):
        return words
    return f"{words} {NOT_DRUNK if beside.loads else NOTHING_BESIDES}"


def _holding(asked: Asked) -> str:
    """What a litre of urine takes along, as typed, or as is usual."""
    typed = [
        f"{word} {amount(asked.values[name], 'mmol/L')}"
        for name, word in (("urine_sodium", "sodium"), ("urine_potassium", "potassium"))
        if name in asked.values
    ]
    usual = LOST["urine"]
    rest = f"sodium {usual.sodium:g} and potassium {usual.potassium:g} mmol/L, as is usual"
    return f", with {' and '.join(typed) or rest}"


def _not_used(asked: Asked) -> str:
    named = "urine_sodium" in asked.values or "urine_potassium" in asked.values
    return " What urine holds counts once its mL/h are typed." if named else ""
