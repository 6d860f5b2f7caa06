"""A published group: what it was given, and what was measured before and after."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final, Literal, get_args

ValueKind = Literal["absolute", "change", "percent_change", "difference"]
# How a set that is held out marks the rows somebody looked at while choosing a parameter.
VIEWED: Final = "viewed"
# Columns of the table that are predicted, and the series of a course each is held against.
SERIES_OF: Final[Mapping[str, str]] = MappingProxyType(
    {
        "na_mmol_l": "sodium_mmol_l",
        "k_mmol_l": "potassium_mmol_l",
        "cl_mmol_l": "chloride_mmol_l",
        "hco3_mmol_l": "bicarbonate_mmol_l",
        "sbe_mmol_l": "base_excess_mmol_l",
        "ph": "ph",
        "albumin_g_l": "albumin_g_l",
        "lactate_mmol_l": "lactate_mmol_l",
        "osmolality_mosm_kg": "osmolality_mosm_kg",
        "hct_pct": "haematocrit",
        "plasma_volume_change_pct": "plasma_volume_ml",
        "plasma_volume_change_ml": "plasma_volume_ml",
    }
)


@dataclass(frozen=True, slots=True)
class Row:
    """One arm at one moment. values: what was printed, by column; absent is not there.

    people is None where the size of the group was not shown. held_out: kept out of the setting of
    parameters. viewed: gathered to be held out, but in view when one was chosen. seen: false when
    the figures are from memory or second hand. against_fluid_id: of a "difference", the fluid that
    the same people had on another day.
    """

    id: str
    study: str
    arm: str
    citation: str
    population: str
    people: int | None
    sex: str
    weight_kg: float | None
    age_years: float | None
    fluid_id: str
    against_fluid_id: str
    volume_ml: float | None
    ml_per_kg: float | None
    duration_min: float
    time_min: float
    kind: ValueKind
    urine_ml: float | None
    blood_ml: float | None
    values: Mapping[str, float]
    conditions: frozenset[str]
    scored: bool
    held_out: bool
    viewed: bool
    seen: bool
    notes: str


@dataclass(frozen=True, slots=True)
class Comparison:
    """A row to be scored, with the baseline of its arm where one was printed."""

    row: Row
    baseline: Mapping[str, float]


def row_from(table: Mapping[str, str], *, held_out: bool) -> Row:
    """One line of the table. Raises ValueError or KeyError where a figure cannot be read."""
    wanted = (*SERIES_OF, "pco2_mmhg")
    kind = table["value_kind"]
    if kind not in get_args(ValueKind):
        raise ValueError(f"{table['row_id']}: value_kind {kind!r}")
    people = _number(table["n"])
    return Row(
        id=table["row_id"],
        study=table["study_id"],
        arm=table["arm_id"],
        citation=table["citation"],
        population=table["population"],
        people=None if people is None else int(people),
        sex=table["sex"],
        weight_kg=_number(table["weight_kg"]),
        age_years=_age(table["age_y"]),
        fluid_id=table["fluid_id"],
        against_fluid_id=table.get("against_fluid_id", ""),
        volume_ml=_number(table["volume_ml"]),
        ml_per_kg=_number(table["ml_per_kg"]),
        duration_min=float(table["duration_min"]),
        time_min=float(table["time_min"]),
        kind=kind,  # type: ignore[arg-type]  # checked above
        urine_ml=_number(table["urine_ml"]),
        blood_ml=_number(table["blood_loss_ml"]),
        values={c: float(table[c]) for c in wanted if table[c]},
        conditions=frozenset(filter(None, table["conditions"].split(";"))),
        scored=table["scoreable"] == "1",
        held_out=held_out and table["split"] != VIEWED,
        viewed=table["split"] == VIEWED,
        seen=table["seen_or_memory"].startswith("seen"),
        notes=table["notes"],
    )


def comparisons_of(rows: Iterable[Row]) -> tuple[Comparison, ...]:
    """The rows to be scored, each with its arm's values at minute 0."""
    known = tuple(rows)
    before = {r.arm: r.values for r in known if r.kind == "absolute" and r.time_min == 0}
    return tuple(Comparison(r, before.get(r.arm, {})) for r in known if r.scored)


def _age(text: str) -> float | None:
    """One age, years; a range or a spread names no one person."""
    return float(text) if text.isdecimal() else None


def _number(text: str) -> float | None:
    return float(text) if text else None
