"""A label's text turned into figures. What is not understood is said, never guessed."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from itertools import groupby
from typing import Final

from app.catalogue.labels.values import RANGE_WORDS, Value, left_out, values_of
from app.catalogue.labels.words import ML_PER_L, NameKind, Token, tokens_of

LONGEST_LABEL: Final = 10_000
PERCENT_G_PER_100_ML: Final = 100.0
ENERGY_UNITS: Final = frozenset({"kcal", "kj"})
WEIGHTS: Final = frozenset({"g", "mg"})
UNITS_OF: Final = {"osmolarity": {"mosm"}, "osmolality": {"mosm"}, "energy": ENERGY_UNITS}
ENERGY: Final = Token("name", "energy", "energy", "other")


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure of a label. name_kind, key: what it is of; unit: as printed, "" for pH.

    number: the digits as printed; basis_ml: in how many mL it is, and whether the label says so;
    lower, upper: the ends of a range, which may stand beside the number or in place of it.
    at_most: the number is no amount but its upper bound.
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
    at_most: bool = False

    @property
    def is_range(self) -> bool:
        """Whether only a range is printed, with no value of its own."""
        return bool(self.lower) and self.number == self.lower

    @property
    def fits(self) -> bool:
        """Whether the unit can be one of such a name: a salt or a sugar is given by weight."""
        if self.name_kind in ("salt", "mass"):
            return self.unit in WEIGHTS
        return self.unit in UNITS_OF.get(self.key, (self.unit,))

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
    "mEq/liter: Sodium 130", "Each 100 mL contains ...". WORDINGS of help.py shows each.
    """
    figures: list[Figure] = []
    unread: list[str] = []
    heading = _NOTHING
    clauses = list(_clauses(tokens_of(text[:LONGEST_LABEL])))
    for clause in clauses:
        heading, found, rest = _read_clause(clause, heading)
        figures += found
        unread += rest
    figures = _with_last_line(figures, clauses)
    return Label(tuple(dict.fromkeys(figures)), tuple(dict.fromkeys(unread)))


def _with_last_line(figures: list[Figure], clauses: list[list[Token]]) -> list[Figure]:
    """A volume on a line of its own at the end is that of the list before it."""
    last = clauses[-1] if clauses else []
    if any(token.kind in ("name", "number", "unit") for token in last):
        return figures
    basis_ml = next((float(token.value) for token in last if token.kind == "basis"), None)
    if basis_ml is None:
        return figures
    return [
        one if one.basis_told else replace(one, basis_ml=basis_ml, basis_told=True)
        for one in figures
    ]


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
        found, rest = _figures(part, heading, _behind(parts[place:]))
        figures += found
        before = [] if place else clause[:start]
        unread += [_text(before, part) if not found else one for one in rest]
        heading = own or heading
    return heading, figures, unread


def _text(*pieces: list[Token]) -> str:
    return " ".join(token.text for piece in pieces for token in piece)


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
        of = _of_its_own(part) if token.kind == "name" else 0
        if of:
            yield part[:of]
            part = part[of:]
        elif part and _begins(token, body[place + 1 :], part, body[0].kind):
            yield part
            part = []
        part.append(token)
    if part:
        yield part


def _of_its_own(part: list[Token]) -> int:
    """Where "4 mEq of" begins behind another figure: what follows it is its name. 0: nowhere."""
    numbers = [place for place, token in enumerate(part) if token.kind == "number"]
    return numbers[-1] if len(numbers) > 1 and part[-1].value == "of" else 0


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


def _figures(
    part: list[Token], heading: _Heading, behind: _Heading
) -> tuple[list[Figure], list[str]]:
    """The figures of a part ("20 mEq/L (20 mmol/L)" are two of one name), and what of it has a
    number that nobody understood.
    """
    name = next((token for token in part if token.kind == "name"), None)
    values = values_of(part)
    units = {value.unit for value in values.found} - {""}
    if name is None and units & ENERGY_UNITS:
        name = ENERGY
    if name is None or name.name_kind is None:
        return [], [_text(part)] if units else []
    if not values.found and any(token.text.isdigit() for token in part):
        return [], [_text(part)]
    if name.name_kind == "other":
        heading = behind = _Heading(told=True)  # always of a litre, unless it says so itself
    figures = [_figure(name, value, heading, behind, part) for value in values.found]
    read = [one for one in figures if one is not None]
    read = [one for one in read if one.fits]
    strange = [f"{one.strange} {one.number} {one.unit}" for one in values.found if one.strange]
    told = len(read) == len(values.found) - len(strange) and not left_out(part)
    left = [] if told and not values.left else [_text(part)]
    return read, [*strange, *left]


def _figure(
    name: Token, value: Value, heading: _Heading, behind: _Heading, part: list[Token]
) -> Figure | None:
    """One value of a name; None without a unit, and for a value of something else."""
    unit = "" if name.value == "ph" else value.unit or heading.unit or behind.unit
    if value.strange or name.name_kind is None or not (unit or name.value == "ph"):
        return None
    basis_ml, told = _basis(value, heading, behind)
    if unit == "%":
        unit, basis_ml, told = "g", PERCENT_G_PER_100_ML, True
    written = " ".join(token.text for token in part if token.kind != "text")
    return Figure(
        name.name_kind, name.value, value.number, unit, basis_ml, written,
        value.lower, value.upper, basis_told=told, at_most=value.at_most,
    )  # fmt: skip


def _basis(value: Value, heading: _Heading, behind: _Heading) -> tuple[float, bool]:
    """In how many mL: as the figure says itself, or its heading, or the end of its list."""
    if value.basis_ml is not None:
        return value.basis_ml, True
    chosen = heading if heading.told else behind
    return chosen.basis_ml, chosen.told
