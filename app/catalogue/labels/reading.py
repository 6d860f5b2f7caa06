"""A label's text turned into figures. What is not understood is said, never guessed."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import groupby
from typing import Final

from app.catalogue.labels.words import ML_PER_L, NameKind, Token, tokens_of

LONGEST_LABEL: Final = 10_000
PERCENT_G_PER_100_ML: Final = 100.0
# A range stands as "6.0 - 7.5" or "6.0 to 7.5".
RANGE_WORDS: Final = frozenset({"-", "to", "~"})
ENERGY_UNITS: Final = frozenset({"kcal", "kj"})
ENERGY: Final = Token("name", "energy", "energy", "other")


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure of a label. name_kind, key: what it is of; unit: as printed, "" for pH.

    number: the digits as printed; basis_ml: in how many mL it is, and whether the label says so;
    lower, upper: the ends of a range, which may stand beside the number or in place of it.
    """

    name_kind: NameKind
    key: str
    number: str
    unit: str
    basis_ml: float
    as_written: str
    lower: str = ""
    upper: str = ""
    basis_told: bool = True

    @property
    def value(self) -> float:
        """As printed, in the label's own unit and volume."""
        return float(self.number)

    @property
    def half_digit(self) -> float:
        """Half of the last printed digit: 0.05 for 2.7, 0.5 for 109."""
        decimals = len(self.number.partition(".")[2])
        return float(0.5 * 10.0**-decimals)

    @property
    def per_litre(self) -> float:
        """From the label's volume to a litre."""
        return ML_PER_L / self.basis_ml


@dataclass(frozen=True, slots=True)
class Label:
    """What was read. unread: pieces with a figure that were not understood, as written."""

    figures: tuple[Figure, ...]
    unread: tuple[str, ...] = ()

    def of(self, name_kind: NameKind) -> tuple[Figure, ...]:
        """The figures of one kind, in the label's order."""
        return tuple(figure for figure in self.figures if figure.name_kind == name_kind)


@dataclass(frozen=True, slots=True)
class _Heading:
    """What holds until the label says otherwise: unit and volume of the figures that follow."""

    unit: str = ""
    basis_ml: float = ML_PER_L
    told: bool = False


_NOTHING: Final = _Heading()


def read_label(text: str) -> Label:
    """The figures of a label, however it lists them: "Na 130 mmol/L", "9 g sodium chloride",
    "mEq/liter: Sodium 130", "Each 100 mL contains ...".
    """
    figures: list[Figure] = []
    unread: list[str] = []
    heading = _Heading()
    for clause in _clauses(tokens_of(text[:LONGEST_LABEL])):
        heading, found, rest = _read_clause(clause, heading)
        figures += found
        unread += rest
    return Label(tuple(dict.fromkeys(figures)), tuple(dict.fromkeys(unread)))


def _clauses(tokens: Iterable[Token]) -> Iterator[list[Token]]:
    for is_break, clause in groupby(tokens, key=lambda token: token.kind == "break"):
        if not is_break:
            yield list(clause)


def _read_clause(
    clause: list[Token], heading: _Heading
) -> tuple[_Heading, list[Figure], list[str]]:
    """One clause: a heading in front, then names with numbers, whichever of them comes first."""
    start = next((i for i, t in enumerate(clause) if t.kind in ("name", "number")), len(clause))
    heading = _headed(clause[:start], heading)
    figures: list[Figure] = []
    unread: list[str] = []
    parts = list(_parts(clause[start:]))
    for place, part in enumerate(parts):
        own = _headed(part, _NOTHING) if _is_heading(part) else None
        figure = _figure(part, heading, _behind(parts[place:]))
        if figure is not None:
            figures.append(figure)
        elif _told_nothing(part):
            unread.append(" ".join(token.text for token in part))
        heading = own or heading
    return heading, figures, unread


def _headed(front: Iterable[Token], heading: _Heading) -> _Heading:
    """A unit or a volume that stands before any figure holds for those that follow."""
    for token in front:
        if token.kind == "basis":
            heading = replace(heading, basis_ml=float(token.value), told=True)
        elif token.kind == "unit":
            # "Each 100 mL contains" began a list of its own, with units beside its figures.
            heading = _Heading(unit=token.value)
    return heading


def _parts(body: list[Token]) -> Iterator[list[Token]]:
    """One part for each figure: begun by whichever of name and number the clause begins with.

    An energy stands by itself: "170 kcal/L" needs no name.
    """
    part: list[Token] = []
    for place, token in enumerate(body):
        if part and _begins(token, body[place + 1 :], part, body[0].kind):
            yield part
            part = []
        part.append(token)
    if part:
        yield part


def _begins(token: Token, after: list[Token], part: list[Token], begun_by: str) -> bool:
    """Whether a new figure begins here. A range is one figure ("6.0 to 7.5"), and a name may be
    explained: "calcium (Ca2+)".
    """
    in_range = part[-1].value in RANGE_WORDS
    if token.kind == "number" and after and after[0].value in ENERGY_UNITS:
        return not in_range and any(t.kind == "number" for t in part)
    if token.kind != begun_by:
        return False
    if begun_by == "name":
        return any(t.kind == "number" for t in part)
    return not in_range and any(t.kind in ("name", "unit") for t in part)


def _is_heading(part: list[Token]) -> bool:
    """A unit behind a name and without a number: "Electrolytes, sodium and others, mmol/L"."""
    kinds = [token.kind for token in part]
    return "number" not in kinds and "unit" in kinds


def _behind(parts: list[list[Token]]) -> _Heading:
    """The unit and the volume that a list ends with: "Na 140, K 5 mmol/L", "77 mmol per 500 mL".

    They hold for the figures before that have none of their own.
    """
    unit = next((t.value for part in parts for t in part if t.kind == "unit"), "")
    last = parts[-1]
    bases = [float(t.value) for part in parts for t in part if t.kind == "basis"]
    ends = bool(bases) and any(t.kind == "basis" for t in last)
    return _Heading(unit, bases[-1] if ends else ML_PER_L, told=ends)


def _figure(part: list[Token], heading: _Heading, behind: _Heading) -> Figure | None:
    name = next((token for token in part if token.kind == "name"), None)
    numbers = [token.value for token in part if token.kind == "number"]
    units = [token.value for token in part if token.kind == "unit"]
    if name is None and any(unit in ENERGY_UNITS for unit in units):
        name = ENERGY
    if name is None or name.name_kind is None or not numbers:
        return None
    unit = "" if name.value == "ph" else _first(units, heading.unit, behind.unit)
    if not unit and name.value != "ph":
        return None
    if name.name_kind == "other":
        heading = behind = _Heading(told=True)  # always of a litre, unless it says so itself
    basis_ml, told = _basis(part, heading, behind)
    if unit == "%":
        unit, basis_ml, told = "g", PERCENT_G_PER_100_ML, True
    written = " ".join(token.text for token in part if token.kind != "text")
    figure = Figure(name.name_kind, name.value, numbers[0], unit, basis_ml, written)
    lower, upper = _range(part)
    return replace(figure, lower=lower, upper=upper, basis_told=told)


def _first(units: list[str], *others: str) -> str:
    return next(filter(None, (*units, *others)), "")


def _basis(part: list[Token], heading: _Heading, behind: _Heading) -> tuple[float, bool]:
    """In how many mL: as the figure says itself, or its heading, or the end of its list."""
    own = [float(token.value) for token in part if token.kind == "basis"]
    if own:
        return own[0], True
    chosen = heading if heading.told else behind
    return chosen.basis_ml, chosen.told


def _range(part: list[Token]) -> tuple[str, str]:
    """The ends of a range; empty where no range stands."""
    for first, middle, last in zip(part, part[1:], part[2:], strict=False):
        if first.kind == last.kind == "number" and middle.value in RANGE_WORDS:
            return first.value, last.value
    return "", ""


def _told_nothing(part: list[Token]) -> bool:
    """True for a name of ours beside a number that made no figure: the reader must be told."""
    return {"name", "number"} <= {token.kind for token in part}
