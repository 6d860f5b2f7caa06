"""Published formulas written out, their examples worked beside the figures that are stated."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from functools import cache
from math import floor, log10
from typing import Final

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from app.physiology.formulas.formula import (
    CLOCK,
    Example,
    Formula,
    Origin,
    Part,
    Source,
    Subject,
    Term,
    Value,
)
from app.physiology.formulas.table import SUBJECTS
from app.web.render import render
from app.web.show import amount, capital, clock, count, number

router: Final = APIRouter(include_in_schema=False)
# Digits that count, where the figure stated has fewer.
DIGITS: Final = 4
MIDNIGHT: Final = datetime(2000, 1, 1, tzinfo=UTC)
ORIGINS: Final[Mapping[Origin, str]] = {
    "published": "published", "label": "label", "worked": "by hand",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class ExampleView:
    """One case: what is put in, the figure stated and whose it is, and the program's."""

    case: str
    inputs: str
    stated: str
    origin: str
    computed: str
    differs: bool


@dataclass(frozen=True, slots=True)
class PartView:
    """One expression with its cases."""

    name: str
    expression: str
    unit: str
    examples: tuple[ExampleView, ...]


@dataclass(frozen=True, slots=True)
class FormulaView:
    """One formula as the page shows it. cases: how many are worked, and whether as stated."""

    id: str
    title: str
    terms: tuple[tuple[str, str], ...]
    sources: tuple[str, ...]
    misleads: tuple[str, ...]
    parts: tuple[PartView, ...]
    cases: str


@dataclass(frozen=True, slots=True)
class SubjectView:
    """Formulas that belong together."""

    name: str
    formulas: tuple[FormulaView, ...]


@dataclass(frozen=True, slots=True)
class WorkedPage:
    """All of it. agreement: how many examples there are, and how many come out as stated."""

    subjects: tuple[SubjectView, ...]
    agreement: str


@router.get("/predict/formulas")
def show_worked(request: Request) -> HTMLResponse:
    """Every formula written out, its cases worked."""
    return render(request, "worked/worked.html", _page())


@cache
def _page() -> WorkedPage:
    return worked_page(SUBJECTS)


def worked_page(subjects: tuple[Subject, ...]) -> WorkedPage:
    """Everything on it."""
    views = tuple(SubjectView(one.name, tuple(map(_formula, one.formulas))) for one in subjects)
    examples = [
        example
        for subject in views
        for formula in subject.formulas
        for part in formula.parts
        for example in part.examples
    ]
    return WorkedPage(views, _agreement(examples))


def _agreement(examples: list[ExampleView]) -> str:
    said = count(len(examples), "worked example")
    differ = sum(example.differs for example in examples)
    if not differ:
        return f"{said}; the program's figure is the one stated in every one, within rounding."
    return f"{said}; in {differ} the program's figure differs from the one stated."


def _formula(formula: Formula) -> FormulaView:
    terms = {term.key: term for term in formula.terms}
    parts = tuple(_part(part, terms) for part in formula.parts)
    return FormulaView(
        id=formula.id,
        title=formula.title,
        terms=tuple((term.symbol, _meaning(term)) for term in formula.terms),
        sources=tuple(map(_source, formula.sources)),
        misleads=formula.misleads,
        parts=parts,
        cases=_cases([example for part in parts for example in part.examples]),
    )


def _cases(examples: list[ExampleView]) -> str:
    differ = sum(example.differs for example in examples)
    agree = f"{differ} not as stated" if differ else "as stated"
    return f"{count(len(examples), 'case')} worked, {agree}"


def _meaning(term: Term) -> str:
    return ", ".join(filter(None, (term.words, term.unit))) or "no unit"


def _source(source: Source) -> str:
    known = f" ({source.known})" if source.known else ""
    return f"{capital(source.citation)}{known}"


def _part(part: Part, terms: Mapping[str, Term]) -> PartView:
    return PartView(
        name=part.name,
        expression=part.expression,
        unit="" if part.unit == CLOCK else part.unit,
        examples=tuple(_example(part, example, terms) for example in part.examples),
    )


def _example(part: Part, example: Example, terms: Mapping[str, Term]) -> ExampleView:
    value = part.value(example)
    places = max(_decimals(example.expected), _places(value))
    return ExampleView(
        case=capital(example.case),
        inputs="; ".join(_input(terms[key], given) for key, given in example.inputs.items()),
        stated=_figure(example.expected, part.unit, _decimals(example.expected)),
        origin=ORIGINS[example.origin],
        computed=_figure(value, part.unit, places),
        differs=not example.agrees(value),
    )


def _input(term: Term, given: Value) -> str:
    if isinstance(given, str):
        return f"{term.symbol}: {given.replace('_', ' ')}"
    if term.unit == CLOCK:
        return f"{term.symbol} {_time_of_day(given)}"
    return f"{term.symbol} {amount(given, term.unit, _decimals(given))}"


def _figure(value: float, unit: str, places: int) -> str:
    if unit == CLOCK:
        return _time_of_day(value)
    return "0" if not round(value, places) else number(value, places)


def _time_of_day(hours: float) -> str:
    return clock(MIDNIGHT + timedelta(hours=hours), MIDNIGHT)


def _decimals(value: float) -> int:
    """How many decimals a stated figure was written with."""
    return len(f"{value:.10g}".partition(".")[2])


def _places(value: float) -> int:
    """Decimals that show four digits of a figure."""
    return 0 if not value else max(0, DIGITS - 1 - floor(log10(abs(value))))
