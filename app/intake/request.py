"""The request's shape: every field of its type and within what can be, or an InputError.

A Reader walks one object of the request. What it cannot read it collects, so that all is told at
once; a field it does not know is asked about, never dropped silently.
"""

import math
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime
from functools import lru_cache
from typing import Any, Final

from app.intake.errors import MOST_FIELDS, InputError, InputErrors, too_much
from app.intake.vocabulary import fold
from app.patient.order import Question

NUMBER_AND_UNIT: Final = re.compile(
    r"([+-]?(?:\d+(?:\.\d+)?|\.\d+|\d{1,3}(?:,\d{3})+|\d+,\d{1,2}))\s*([^\d\s.,].*)?",
    re.ASCII,
)
DECIMAL_COMMA: Final = re.compile(r"(?<=\d),(?=\d{1,2}$)")
DATE_ONLY: Final = re.compile(r"\d{4}-\d\d-\d\d")
CLOCK: Final = re.compile(r"\d{4}-\d\d-\d\d[T ]\d\d:?\d\d.*")
SHOWN: Final = 60
KEPT_TIMES: Final = 2048
Meant = Callable[[float], str]


@dataclass(frozen=True, slots=True)
class Span:
    """Numbers a field may hold: above low (or from low on), up to high, and its units' factors."""

    low: float
    high: float
    unit: str
    spellings: Mapping[str, float] = field(default_factory=dict)
    above: bool = False

    def holds(self, value: float) -> bool:
        """True when the number can be."""
        return (value > self.low if self.above else value >= self.low) and value <= self.high

    @property
    def accepted(self) -> str:
        """What is accepted, in words."""
        start = f"above {self.low:g}" if self.above else f"from {self.low:g}"
        return f"a number {start}, up to {self.high:g} {self.unit}".rstrip()


@dataclass(slots=True)
class Problems:
    """What could not be read at all, and what must be asked, in the order met."""

    errors: list[InputError] = field(default_factory=list)
    questions: list[Question] = field(default_factory=list)
    zoneless: bool = False

    def copied(self) -> "Problems":
        """The same so far, to go on from more than once."""
        return Problems([*self.errors], [*self.questions], self.zoneless)

    def stop_if_any(self) -> None:
        """Raise what was collected: one InputError, or InputErrors."""
        if len(self.errors) == 1:
            raise self.errors[0]
        if self.errors:
            raise InputErrors(tuple(self.errors))


class Reader:
    """Reads one object of a request by field name; missing and null are None."""

    def __init__(
        self, data: object, path: str, problems: Problems, seen: Iterable[str] = ()
    ) -> None:
        self.path = path
        self.problems = problems
        self._seen: set[str] = set(seen)
        self.data: Mapping[str, Any] = {}
        if isinstance(data, Mapping):
            self.data = self._within_bounds(data)
        elif data is not None:
            self.refuse_at(path or "request", data, "an object of named fields")

    def _within_bounds(self, data: Mapping[str, Any]) -> Mapping[str, Any]:
        """The object without what is too much to be read, which is refused unread."""
        if told := too_much("", tuple(data), MOST_FIELDS):
            self.refuse_at(self.path or "request", *told)
            return {}
        big = {name: told for name, value in data.items() if (told := too_much(name, value))}
        for name, told in big.items():
            self.refuse(name, *told)
        return {n: v for n, v in data.items() if n not in big} if big else data

    def refuse_at(self, path: str, value: object, accepted: str) -> None:
        """Note a field that cannot be read."""
        self.problems.errors.append(InputError(path, value, accepted))

    def refuse(self, name: str, value: object, accepted: str) -> None:
        """Note a field of this object that cannot be read."""
        self.refuse_at(self.at(name), value, accepted)

    def ask(self, name: str, written: object, question: str, *, minor: bool = False) -> None:
        """Note something the writer must be asked; minor: what hardly anyone would doubt."""
        shown = str(written)[:SHOWN]
        self.problems.questions.append(Question(self.at(name), shown, question, minor=minor))

    def at(self, name: str) -> str:
        """A field's full path."""
        return f"{self.path}.{name}" if self.path else name

    def raw(self, name: str) -> Any:  # noqa: ANN401 - any JSON value
        """The value as received."""
        self._seen.add(name)
        return self.data.get(name)

    def text(self, name: str) -> str | None:
        """A text; None when missing or blank."""
        value = self.raw(name)
        if isinstance(value, str):
            return value.strip() or None
        if value is not None:
            self.refuse(name, value, "a text")
        return None

    def label(self, name: str) -> str | None:
        """A text or a whole number used as a name."""
        value = self.raw(name)
        if isinstance(value, int) and not isinstance(value, bool):
            return str(value)
        return self.text(name)

    def number(self, name: str, span: Span) -> float | None:
        """A number in the field's unit; text is read when it leaves no doubt."""
        number = self._number(name, span)
        if number is not None and not span.holds(number):
            self.refuse(name, self.data[name], span.accepted)
            return None
        return number

    def believed(self, name: str, span: Span, meant: Meant | None = None) -> float | None:
        """As number(), but a figure that cannot be is asked about and not used.

        meant: what the figure may have been meant for, as a question, or "". Zero and less,
        where it cannot be, is refused.
        """
        number = self._number(name, span)
        if number is None or span.holds(number):
            return number
        if span.low >= 0 >= number:
            self.refuse(name, self.data[name], span.accepted)
            return None
        hint = (meant(number) if meant else "") or "Wrong unit or wrong figure?"
        expected = f"{span.low:g} to {span.high:g} {span.unit} is expected"
        self.ask(
            name, f"{number:g} {span.unit}", f"{number:g} {span.unit} cannot be; {expected}. {hint}"
        )
        return None

    def _number(self, name: str, span: Span) -> float | None:
        value = self.raw(name)
        if value is None or (isinstance(value, str) and not value.strip()):
            return None
        number = read_number(value, span.spellings)
        if number is None:
            self.refuse(name, value, span.accepted)
        return number

    def choice(self, name: str, options: Mapping[str, str]) -> str | None:
        """One of a closed list, by any accepted spelling."""
        text = self.text(name)
        if text is None:
            return None
        found = options.get(fold(text))
        if found is None:
            self.refuse(name, text, " or ".join(dict.fromkeys(options.values())))
        return found

    def sequence(self, name: str) -> Sequence[Any]:
        """A list; empty when missing."""
        value = self.raw(name)
        if value is None:
            return ()
        if isinstance(value, Sequence) and not isinstance(value, str | bytes):
            return value
        self.refuse(name, value, "a list")
        return ()

    def texts(self, name: str) -> tuple[str, ...]:
        """A list of texts, or one text."""
        value = self.raw(name)
        if isinstance(value, str):
            return (value.strip(),) if value.strip() else ()
        texts: list[str] = []
        for number, item in enumerate(self.sequence(name)):
            if told := too_much(name, item):
                self.refuse(f"{name}[{number}]", *told)
            elif isinstance(item, str):
                texts.append(item.strip())
            elif item is not None:
                self.refuse(f"{name}[{number}]", item, "a text")
        return tuple(text for text in texts if text)

    def readers(self, name: str) -> tuple["Reader", ...]:
        """A list of objects, each with its own reader."""
        return tuple(
            Reader({} if item is None else item, f"{self.at(name)}[{number}]", self.problems)
            for number, item in enumerate(self.sequence(name))
        )

    def reader(self, name: str) -> "Reader":
        """A nested object."""
        return Reader(self.raw(name), self.at(name), self.problems)

    def time(self, name: str, zone: datetime | None = None) -> datetime | None:
        """A time; without a zone it takes that of `zone`; a date alone is no usable time."""
        value = self.raw(name)
        if value is None or value == "":
            return None
        read = value if isinstance(value, datetime) else _time(value)
        if read is None:
            self.refuse(name, value, "a date and time such as 2031-03-04T07:00:00Z")
            return None
        if isinstance(value, str) and DATE_ONLY.fullmatch(value.strip()):
            self.ask(name, value, "At what time of that day? Without a time its age is not known.")
            return None
        if read.tzinfo is None:
            self.problems.zoneless = True
            read = read.replace(tzinfo=zone.tzinfo if zone else UTC)
        return read

    def reworded(self, texts: Mapping[str, str]) -> "Reader":
        """The same object with some of its texts in other words."""
        other = Reader({**self.data, **texts}, self.path, self.problems)
        other._seen = self._seen
        return other

    def ask_unknown(self) -> None:
        """Ask about every field that nothing reads."""
        for name in self.data:
            if name not in self._seen:
                known = ", ".join(sorted(self._seen))
                self.ask(
                    str(name), name, f"This field is not known and was not used. Known: {known}"
                )


def read_number(value: object, spellings: Mapping[str, float]) -> float | None:
    """A finite number, or a text of a number with one of the units; None when it is neither."""
    if isinstance(value, bool):
        return None
    if isinstance(value, int | float):
        try:
            number = float(value)
        except OverflowError:
            return None
        return number if math.isfinite(number) else None
    if not isinstance(value, str):
        return None
    match = NUMBER_AND_UNIT.fullmatch(fold(value))
    if not match:
        return None
    factor = spellings.get((match[2] or "").strip().replace(" ", ""), None if match[2] else 1.0)
    number = float(DECIMAL_COMMA.sub(".", match[1]).replace(",", ""))
    return None if factor is None or not math.isfinite(number) else number * factor


def readable_time(value: object) -> bool:
    """True for a time, a date, or nothing; False for what no reader of times takes."""
    blank = value is None or value == ""
    return blank or isinstance(value, datetime) or _time(value) is not None


def _time(value: object) -> datetime | None:
    if not isinstance(value, str):
        return None
    return _time_of(value.strip())


@lru_cache(maxsize=KEPT_TIMES)
def _time_of(text: str) -> datetime | None:
    if not (CLOCK.fullmatch(text) or DATE_ONLY.fullmatch(text)):
        return None
    try:
        return datetime.fromisoformat(text)
    except ValueError:
        return None
