"""How each written word was understood, and what was not."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from app.patient.case import Case
from app.patient.order import CoInfusion, Order, Question
from app.patient.snapshot import Words
from app.web import show
from app.web.advice.order_words import bag_words

# How something stands that is not counted as running.
STANDS: Final = {
    "ended": "stopped or given: not counted", "later": "not yet running: not counted",
    "never": "not given: not counted", "elsewhere": "not by vein: counted as a medicine",
}  # fmt: skip
# What a drug does, where its key is a mark that comes with it.
MARKS: Final = {
    "potassium_raising": "raises potassium", "sodium_lowering": "lowers sodium",
    "neuromuscular_blocker": "neuromuscular blocker", "ssri": "SSRI",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Understood:
    """Words as written, and what they were taken for.

    as_written: understood as just that. taken_for is empty when not understood; written is empty
    where it lists what the words deny.
    """

    written: str
    taken_for: str
    as_written: bool = False


@dataclass(frozen=True, slots=True)
class Asked:
    """Something the writer must answer."""

    written: str
    ask: str
    choices: tuple[str, ...] = ()


def understood_words(words: Words) -> tuple[Understood, ...]:
    """Conditions or medications: what each phrase was taken for, then what was not understood."""
    by_phrase: dict[str, list[str]] = {}
    for key in sorted(words.found):
        by_phrase.setdefault(words.detail.get(key, key.replace("_", " ")), []).append(_plain(key))
    known = [_understood(phrase, keys) for phrase, keys in by_phrase.items()]
    if words.denied:
        known.append(Understood("", ", ".join(map(_plain, sorted(words.denied)))))
    return (*known, *(Understood(word, "") for word in words.unread))


def _understood(phrase: str, keys: list[str]) -> Understood:
    """Keys that only repeat the phrase are not said twice."""
    more = [key for key in keys if key.lower() != phrase.lower()]
    return Understood(phrase, ", ".join(more or keys), as_written=not more)


def understood_order(order: Order) -> Understood:
    """An order's words and the fluid they were taken for."""
    return Understood(order.written, bag_words(order) if order.fluid else "")


def understood_others(case: Case) -> tuple[Understood, ...]:
    """What else runs, as understood, with where and how it runs; then what does not run."""
    running = tuple(Understood(other.name, _other(other)) for other in case.co_infusions)
    aside = tuple(Understood(other.name, _aside(other)) for other in case.set_aside)
    return (*running, *aside)


def _aside(other: CoInfusion) -> str:
    return ", ".join(filter(None, (_plain(other.key), STANDS[other.stands])))


def questions_of(case: Case, order_ids: Iterable[str] | None = None) -> tuple[Asked, ...]:
    """Every question on the patient and the orders (all, or only those named)."""
    wanted = None if order_ids is None else set(order_ids)
    orders = [o for o in case.orders if wanted is None or o.id in wanted]
    questions = [*(q for order in orders for q in order.questions), *case.questions]
    return tuple(dict.fromkeys(_asked(question) for question in questions))


def _asked(question: Question) -> Asked:
    return Asked(question.written, question.ask, question.choices)


def _plain(key: str) -> str:
    return MARKS.get(key, key.replace("_", " "))


def _other(other: CoInfusion) -> str:
    if not other.key:
        return ""
    parts = [_plain(other.key), other.kind]
    if other.rate_ml_h is not None:
        parts.append(show.amount(other.rate_ml_h, "mL/h"))
    elif other.duration_min is not None:
        parts.append(f"over {show.amount(other.duration_min, 'min')}")
    if other.lumen:
        parts.append(f"by {other.lumen}")
    return ", ".join(dict.fromkeys(parts))
