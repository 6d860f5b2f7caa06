"""Results of one patient that cannot both be right."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import timedelta
from types import MappingProxyType
from typing import Final

from app.cautions.assess import Found
from app.cautions.data_rules import DATA_SUSPECT
from app.cautions.facts import filtration_contradicts
from app.cautions.phrases import number, opening
from app.cautions.rule import Finding
from app.patient.case import Case
from app.patient.snapshot import Snapshot
from app.review.missing.lack import judged_by

NO_LIMITS: Final[Mapping[str, float]] = MappingProxyType({})
ONE_SAMPLE: Final = timedelta(hours=1)
# Solubility of carbon dioxide in plasma, mmol/L in each mmHg, and the acid's pK (textbook).
CO2_MMOL_L_MMHG: Final = 0.0307
PK: Final = 6.1
BICARBONATE_WITHIN_MMOL_L: Final = 4.0
BICARBONATE_WITHIN_SHARE: Final = 0.25
# A litre of red cells holds about 330 g of haemoglobin; outside these no blood does, g/L.
CELL_HAEMOGLOBIN_G_L: Final = (220.0, 450.0)
HAEMATOCRIT_PERCENT_PER_G_L: Final = 0.3
PERCENT: Final = 100.0
# Cations left over never outweigh by so little; under it one figure is wrong, mmol/L.
ANION_GAP_LEAST_MMOL_L: Final = -4.0
# EDTA in the tube takes the calcium and brings potassium (laboratory practice, no source).
EDTA_POTASSIUM_MMOL_L: Final = 6.5
EDTA_CALCIUM_MMOL_L: Final = {"calcium_total": 1.2, "calcium_ionised": 0.6}
# What may lie between osmolality as measured and as worked out, mosm/kg (textbook, from memory).
OSMOLAL_GAP: Final = (-15.0, 25.0)
UNKNOWN_SOLUTE_MOSM_KG: Final = 5.0
OTHER_SOLUTES: Final = ("toxic_alcohol", "poisoning")


@dataclass(frozen=True, slots=True)
class Clash:
    """Results that contradict each other: in short, why, and whose bags are judged by them."""

    short: str
    why: str
    figures: tuple[str, ...]
    judged: str


def contradictions(case: Case) -> Iterator[Found]:
    """Each pair of results that cannot both be right: loud where an order is judged by them."""
    for look in LOOKS:
        clash = look(case.patient)
        if clash is not None:
            yield Found(DATA_SUSPECT, _finding(clash, case), NO_LIMITS)


def _finding(clash: Clash, case: Case) -> Finding:
    judged = tuple(order.id for order in case.orders if clash.judged in judged_by(order))
    return Finding(
        "warning" if judged else "info",
        clash.short,
        clash.why,
        figures=dict.fromkeys(clash.figures, "suspect"),
        do="Check both at their source, or repeat the sample, before this goes on."
        if judged
        else "",
        order_ids=judged or tuple(order.id for order in case.orders),
    )


def _filtration(patient: Snapshot) -> Clash | None:
    said = filtration_contradicts(patient)
    if not said:
        return None
    return Clash(
        "eGFR and creatinine contradict each other; one of them is wrong.",
        f"{opening(said)}. Until one is known to be wrong, the worse is taken for true.",
        ("egfr", "creatinine"), "creatinine",
    )  # fmt: skip


def _gas(patient: Snapshot) -> Clash | None:
    """pH, carbon dioxide and bicarbonate of one sample fit each other (Henderson, Hasselbalch)."""
    values = _of_one_sample(patient, "ph", "pco2", "bicarbonate")
    if values is None:
        return None
    ph, pco2, bicarbonate = values
    meant = CO2_MMOL_L_MMHG * pco2 * 10 ** (ph - PK)
    within = max(BICARBONATE_WITHIN_MMOL_L, BICARBONATE_WITHIN_SHARE * max(meant, bicarbonate))
    if abs(meant - bicarbonate) <= within:
        return None
    return Clash(
        "pH, carbon dioxide and bicarbonate do not fit each other; one of them is wrong.",
        f"pH {ph:g} at {number(pco2)} mmHg means a bicarbonate of about {meant:.0f} mmol/L, and "
        f"{number(bicarbonate)} is reported.",
        ("ph", "pco2", "bicarbonate"), "ph",
    )  # fmt: skip


def _cells(patient: Snapshot) -> Clash | None:
    values = _of_one_sample(patient, "haemoglobin", "haematocrit")
    if values is None or values[1] <= 0:
        return None
    low, high = CELL_HAEMOGLOBIN_G_L
    if low <= values[0] / (values[1] / PERCENT) <= high:
        return None
    return Clash(
        "Haemoglobin and haematocrit do not fit each other; one of them is wrong.",
        f"Haemoglobin {number(values[0])} g/L goes with a haematocrit of about "
        f"{values[0] * HAEMATOCRIT_PERCENT_PER_G_L:.0f}%, and {number(values[1])}% is reported.",
        ("haemoglobin", "haematocrit"), "haemoglobin",
    )  # fmt: skip


def _charges(patient: Snapshot) -> Clash | None:
    values = _of_one_sample(patient, "sodium", "chloride", "bicarbonate")
    if values is None or values[0] - values[1] - values[2] >= ANION_GAP_LEAST_MMOL_L:
        return None
    sodium, chloride, bicarbonate = map(number, values)
    return Clash(
        "Sodium, chloride and bicarbonate do not fit each other; one of them is wrong.",
        f"Chloride {chloride} and bicarbonate {bicarbonate} mmol/L together outweigh sodium "
        f"{sodium} mmol/L.",
        ("sodium", "chloride", "bicarbonate"), "sodium",
    )  # fmt: skip


def _tube(patient: Snapshot) -> Clash | None:
    """Much potassium and next to no calcium: the blood was in a tube with EDTA."""
    for calcium, low in EDTA_CALCIUM_MMOL_L.items():
        values = _of_one_sample(patient, "potassium", calcium)
        if values and values[0] >= EDTA_POTASSIUM_MMOL_L and values[1] <= low:
            return Clash(
                "Potassium and calcium look like a sample from the wrong tube.",
                f"Potassium {number(values[0])} with calcium {number(values[1])} mmol/L is what "
                "EDTA makes of any blood. Until a repeat is back, they are taken for true.",
                ("potassium", calcium), "potassium",
            )  # fmt: skip
    return None


def _osmolality(patient: Snapshot) -> Clash | None:
    values = _of_one_sample(patient, "osmolality", "sodium")
    if values is None or patient.conditions.any_of(*OTHER_SOLUTES):
        return None
    measured, sodium = values
    others = [patient.value_or_none(name) for name in ("urea", "glucose")]
    worked_out = 2 * sodium + sum(
        UNKNOWN_SOLUTE_MOSM_KG if other is None else other for other in others
    )
    low, high = OSMOLAL_GAP
    if low <= measured - worked_out <= high:
        return None
    more = "fat or protein in the sample, or alcohol or mannitol in the blood, would explain it"
    return Clash(
        "Osmolality and sodium do not fit each other.",
        f"Sodium {number(sodium)} mmol/L means an osmolality of about {worked_out:.0f} mosm/kg, "
        f"and {number(measured)} is measured"
        f"{': ' + more if measured > worked_out else ''}.",
        ("osmolality", "sodium"), "sodium",
    )  # fmt: skip


def _of_one_sample(patient: Snapshot, *names: str) -> tuple[float, ...] | None:
    """The newest values, None unless all are known and none is an hour from another."""
    values = [patient.value_or_none(name) for name in names]
    if any(value is None for value in values):
        return None
    times = [time for name in names if (time := patient.result(name).taken_at)]
    if times and max(times) - min(times) > ONE_SAMPLE:
        return None
    return tuple(value for value in values if value is not None)


LOOKS: Final[tuple[Callable[[Snapshot], Clash | None], ...]] = (
    _filtration, _gas, _cells, _charges, _tube, _osmolality,
)  # fmt: skip
