"""The reference column: adult plasma, with its ranges and what is drawn of its charges."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

from app.catalogue.source import Source
from app.chemistry.composition import MILLI, PHOSPHATE_CHARGE_AT_PH_7_4, Composition
from app.chemistry.errors import UnitError
from app.chemistry.substances import GLUCOSE_ANHYDROUS_G_MOL, ION_BY_KEY

# Charge of albumin at pH 7.40, mEq/g: 0.123 x 7.40 - 0.631 (Figge, Mydosh, Fencl, J Lab Clin Med
# 1992;120:713, from memory).
ALBUMIN_CHARGE_MEQ_G: Final = 0.123 * 7.4 - 0.631


@dataclass(frozen=True, slots=True)
class PlasmaValue:
    """One analyte's range and the typical figure that is drawn, in the project's unit."""

    key: str
    name: str
    unit: str
    low: float
    typical: float
    high: float
    source: Source

    def place_of(self, value: float) -> str:
        """Where a value lies against the range: "below", "within" or "above"."""
        if value < self.low:
            return "below"
        return "above" if value > self.high else "within"


@dataclass(frozen=True, slots=True)
class Charge:
    """One piece of a charge column: name, mEq/L, and whether it is a remainder, not measured."""

    name: str
    meq_l: float
    is_remainder: bool = False


@dataclass(frozen=True, slots=True)
class Plasma:
    """Adult plasma: its values in reading order."""

    name: str
    values: tuple[PlasmaValue, ...]

    def get(self, key: str) -> PlasmaValue | None:
        """The value of one analyte, or None."""
        return next((value for value in self.values if value.key == key), None)

    @property
    def composition(self) -> Composition:
        """The typical ions, glucose and albumin as a composition; calcium is the free ion.

        The charge of albumin and of the anions nobody measures closes the gap, so that the column
        is neutral; see unmeasured_anions_meq_l.
        """
        typical = {value.key: value.typical for value in self.values}
        amounts = {f"{key}_mmol_l": typical[key] for key in ION_BY_KEY if key in typical}
        bare = Composition(
            **amounts,  # type: ignore[arg-type]  # ion names only
            glucose_g_l=typical["glucose"] * GLUCOSE_ANHYDROUS_G_MOL / MILLI,
            albumin_g_l=typical["albumin"],
        )
        gap_meq_l = bare.charge_gap_meq_l or 0.0
        return Composition(
            **amounts,  # type: ignore[arg-type]  # ion names only
            glucose_g_l=bare.glucose_g_l,
            albumin_g_l=bare.albumin_g_l,
            colloid_charge_meq_l=-gap_meq_l,
        )

    @property
    def albumin_charge_meq_l(self) -> float:
        """Negative charge carried by albumin at pH 7.40, mEq/L, as a positive number."""
        return self.composition.albumin_g_l * ALBUMIN_CHARGE_MEQ_G

    @property
    def unmeasured_anions_meq_l(self) -> float:
        """What is left to make the column neutral, mEq/L: sulfate, urate, globulins, others.

        A remainder of typical figures, not a measurement.
        """
        return -self.composition.colloid_charge_meq_l - self.albumin_charge_meq_l

    def anion_charges(self) -> tuple[Charge, ...]:
        """The anion side of the column, bottom to top, with the remainder last and named so."""
        c = self.composition
        ions = (
            Charge(ION_BY_KEY[key].name, (c.ion_mmol_l(key) or 0.0) * -(charge or 0))
            for key, charge in (
                ("chloride", ION_BY_KEY["chloride"].charge),
                ("bicarbonate", ION_BY_KEY["bicarbonate"].charge),
                ("lactate", ION_BY_KEY["lactate"].charge),
                ("phosphate", PHOSPHATE_CHARGE_AT_PH_7_4),
            )
        )
        return (
            *ions,
            Charge("albumin", self.albumin_charge_meq_l),
            Charge("other anions, not measured", self.unmeasured_anions_meq_l, is_remainder=True),
        )


def plasma_from(entry: Mapping[str, Any]) -> Plasma:
    """The reference column from seed_data/plasma.toml, already parsed.

    Raises UnitError naming a value whose typical figure lies outside its own range.
    """
    values = tuple(_value(one) for one in entry["value"])
    return Plasma(str(entry["name"]), values)


def _value(one: Mapping[str, Any]) -> PlasmaValue:
    value = PlasmaValue(
        key=one["key"],
        name=one["name"],
        unit=one["unit"],
        low=float(one["low"]),
        typical=float(one["typical"]),
        high=float(one["high"]),
        source=Source(
            work=one["work"],
            place=one.get("place", ""),
            seen=bool(one.get("seen", False)),
            note=one.get("note", ""),
        ),
    )
    if value.place_of(value.typical) != "within":
        raise UnitError(value.name, value.typical, f"{value.low:g} to {value.high:g}")
    return value
