"""An infusion over time in plasma and tissue."""

from collections.abc import Callable
from typing import Final

from app.physiology.formulas.formula import Formula, Given, Part, Source, Subject, Term, example
from app.physiology.formulas.two_spaces import Infused, RateConstants, Spaces, excess_ml

VOLUME: Final = Term("volume_ml", "volume", "mL", "given at an even pace")
MINUTES: Final = Term("minutes", "over", "min")
AT: Final = Term("at_min", "t", "min", "time since the start")


def _by_rates(which: int) -> Callable[..., float]:
    """Plasma, tissue or urine by its place."""

    def _work(  # noqa: PLR0913 - one for each term
        *,
        volume_ml: float,
        minutes: float,
        at_min: float,
        k10: float,
        k12: float,
        k21: float,
    ) -> float:
        spaces = RateConstants(passed=k10, out=k12, back=k21)
        return excess_ml(spaces, Infused(volume_ml, minutes), at_min)[which]

    return _work


RATES: Final[Given] = {"volume_ml": 1000, "minutes": 30, "k10": 0.010, "k12": 0.070, "k21": 0.025}
# Time, and mL in plasma, in tissue and passed.
AT_TIMES: Final = (
    (30, 457.5, 457.4, 85.1),
    (60, 213.0, 616.7, 170.3),
    (120, 174.5, 541.4, 284.1),
)

BY_RATE_CONSTANTS: Final = Formula(
    id="volume-kinetics",
    title="An infusion in plasma and tissue over time",
    terms=(
        VOLUME, MINUTES, AT,
        Term("k10", "k10", "/min", "share of plasma's excess passed as urine"),
        Term("k12", "k12", "/min", "share of plasma's excess that goes into tissue"),
        Term("k21", "k21", "/min", "share of tissue's excess that comes back"),
    ),
    sources=(
        Source("form: Hahn, Acta Anaesthesiol Scand 2020;64:570; constants uncertain"),
        Source("worked examples are ours, stepped by 0.01 min; nothing here was checked against "
               "a paper", ""),
    ),
    misleads=(
        "Constants are orders of magnitude for awake volunteers; the share passed falls two- to "
        "tenfold under general anaesthesia.",
        "Our own curves use other numbers, set from trials: see the page of errors.",
    ),
    parts=tuple(
        Part(name, expression, "mL", _by_rates(which), tuple(
            example(row[which + 1], at_min=row[0], **RATES) for row in AT_TIMES
        ))
        for which, (name, expression) in enumerate((
            ("Excess in plasma", "da/dt = volume ÷ over − (k10 + k12) × a + k21 × b"),
            ("Excess in tissue", "db/dt = k12 × a − k21 × b"),
            ("Passed", "du/dt = k10 × a; what is in plasma, in tissue and passed adds up to what "
             "was given"),
        ))
    ),
)  # fmt: skip


def _first_space_l(  # noqa: PLR0913 - one for each term
    *,
    volume_ml: float,
    minutes: float,
    at_min: float,
    v1_ml: float,
    v2_ml: float,
    kr: float,
    kt: float,
    kb: float,
) -> float:
    spaces = Spaces(v1_ml, v2_ml, clearance_ml_min=kr, trade_ml_min=kt, basal_ml_min=kb)
    return excess_ml(spaces, Infused(volume_ml, minutes), at_min)[0]


VOLUNTEERS: Final[Given] = {
    "volume_ml": 1750, "minutes": 45, "v1_ml": 5900, "v2_ml": 9100, "kr": 94, "kt": 200, "kb": 0.8,
}  # fmt: skip
SPACE_ML: Final = 0.6

BY_DILUTION: Final = Formula(
    id="volume-kinetics-dilution",
    title="The same by the dilution of two spaces",
    terms=(
        VOLUME, MINUTES, AT,
        Term("v1_ml", "V1", "mL", "first space"),
        Term("v2_ml", "V2", "mL", "second space"),
        Term("kr", "kr", "mL/min", "clearance of the first space's dilution"),
        Term("kt", "kt", "mL/min", "trade between the two; assumed"),
        Term("kb", "kb", "mL/min", "loss at rest, about 0.5 to 0.8"),
    ),
    sources=(
        Source("Svensén and Hahn, Anesthesiology 1997;87:204: male volunteers, Ringer's acetate "
               "25 mL/kg in 30 to 45 min; uncertain, and kt is assumed"),
        Source("worked examples are ours, stepped by 0.01 min", ""),
    ),
    misleads=("Not to be leaned on before it is checked against the paper.",),
    parts=(
        Part(
            "First space, above its size",
            "dv1/dt = volume ÷ over − kb − kr × d1 − kt × (d1 − d2); dv2/dt = kt × (d1 − d2); "
            "d = excess ÷ size of each",
            "mL",
            _first_space_l,
            (
                example(812, within=SPACE_ML, at_min=45, **VOLUNTEERS),
                example(522, within=SPACE_ML, at_min=60, **VOLUNTEERS),
                example(261, within=SPACE_ML, at_min=120, **VOLUNTEERS),
            ),
        ),
    ),
)  # fmt: skip

SUBJECT: Final = Subject("An infusion over time", (BY_RATE_CONSTANTS, BY_DILUTION))
