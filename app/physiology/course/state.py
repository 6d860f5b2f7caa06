"""Where water, salt, protein and base are, for many people at once, and one step in time.

Salt mixes over all fluid outside cells; water goes where osmoles pull it; plasma and interstitium
trade water at rates of their own; cells give and take base and potassium for sodium.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final

import numpy as np

from app.physiology.course.body import Subject
from app.physiology.course.charges import NORMAL_PH, weak_charge
from app.physiology.course.loads import ORGANIC, ORGANIC_CHARGE
from app.physiology.course.parameters import Values
from app.physiology.course.sizes import ECF_SHARE_ADULT

LN2: Final = float(np.log(2.0))
ML_PER_L: Final = 1000.0
MINUTES_PER_HOUR: Final = 60.0
# Albumin of the interstitium as a share of plasma's (about a third: trial readings).
INTERSTITIAL_ALBUMIN: Final = 0.35
# Potassium that cells add to fluid outside them as it grows, so that volume alone dilutes little.
POTASSIUM_FOLLOWS: Final = 0.8
# Shift of the potassium that cells keep up, mmol/L: by base, and by glucose above the start, which
# brings insulin of its own (it pulls as an osmole too). From memory.
POTASSIUM_PER_BASE: Final = -0.05
POTASSIUM_PER_GLUCOSE: Final = -0.045
# Insulin moves less of a low potassium: in full from this on, mmol/L (common practice, no source).
POTASSIUM_IN_FULL: Final = 4.0
# No shift empties plasma of it: the least that cells keep up, mmol/L; most that goes at once.
LEAST_POTASSIUM: Final = 0.5
MOST_AT_ONCE: Final = -0.5
# A fuller plasma leaks faster (large against small boluses in hct_bolus1989).
FASTER_WHEN_FULL: Final = 4.0
# Nobody lives with less of what is outside cells or in plasma: the course stops falling there.
LEAST_SHARE: Final = 0.4
LEAST_OUTSIDE: Final = 0.2
NONE_AT_REST: Final = (
    "divalent", "rest", "albumin_added", "starch", "gelatin", "solute", "mannitol", "insulin",
    "acts", "cell_potassium", "cell_base",
)  # fmt: skip
GLUCONATE: Final = ORGANIC.index("gluconate")
Drawn = Mapping[str, Values]


@dataclass(slots=True)
class State:
    """Amounts: L, mmol, mEq, g. organic: a row for each of ORGANIC. rest: unmeasured anions and
    what cells took or gave as base. divalent: charge of calcium and magnesium added. solute: what
    else pulls water; mannitol: how much of it is mannitol. insulin: units in plasma, above the
    start's; acts: its effect, of the full one.
    """

    water: Values
    ecf: Values
    plasma: Values
    red_cells: Values
    cell_osmoles: Values
    sodium: Values
    potassium: Values
    chloride: Values
    divalent: Values
    organic: Values
    rest: Values
    phosphate: Values
    albumin_plasma: Values
    albumin_interstitial: Values
    albumin_added: Values
    starch: Values
    gelatin: Values
    glucose: Values
    solute: Values
    mannitol: Values
    insulin: Values
    acts: Values
    cell_potassium: Values
    cell_base: Values


@dataclass(frozen=True, slots=True)
class Decay:
    """Share of each left, gone or gained after a step; worked out once for each length of step."""

    organic: Values
    made: Values
    glucose_gone: Values
    excess_gone: Values
    mannitol_gone: Values
    water_gained: Values
    albumin_gone: Values


@dataclass(frozen=True, slots=True)
class Start:
    """What the state is compared with: sizes and concentrations before the infusion. least: what
    stays outside cells, L; passes and uses: what ills leave of what kidneys pass and of the use of
    glucose; of cells the potassium's space, L, its clearance into them, L/min, their buffers, L.
    """

    subject: Subject
    ecf: Values
    least: Values
    osmoles_l: Values
    base: Values
    rates: Values
    lactate_made: Values
    passes: Values
    uses: Values
    potassium_l: Values
    clearance: Values
    buffer_l: Values
    keeps_water: bool | None = None
    decays: dict[float, "Decay"] = field(default_factory=dict)


def begin(
    subject: Subject, drawn: Drawn, *, keeps_water: bool | None = None
) -> tuple[State, Start]:
    """The state at rest, its charges balanced by unmeasured anions; what it is compared with."""
    state = _at_rest(subject, drawn)
    weak = weak_charge(mean_albumin(state), state.phosphate / state.ecf, subject.ph)
    state.rest = (strong(state) - subject.bicarbonate_mmol_l - weak) * state.ecf
    osmoles_l = osmoles(state) / state.ecf
    state.cell_osmoles = osmoles_l * (state.water - state.ecf)
    one, rates, kg = np.ones_like(state.ecf), _rates(subject, drawn), subject.weight_kg
    failing = ("failing_stores", "failing_takes_up") if subject.kidneys_fail else ()
    stores, takes_up = [drawn[name] for name in failing] or (one, one)
    return state, Start(
        subject=subject,
        ecf=state.ecf.copy(),
        least=LEAST_OUTSIDE * state.ecf,
        osmoles_l=osmoles_l,
        base=base_outside(state),
        rates=rates,
        lactate_made=rates[0] * state.organic[0],
        passes=_passes(subject, drawn),
        uses=drawn["diabetic_share"] if subject.diabetes else one,
        potassium_l=kg * drawn["potassium_l_kg"] * stores,
        clearance=kg * drawn["potassium_l_kg_min"] * takes_up,
        buffer_l=kg * drawn["buffer_l_kg"],
        keeps_water=keeps_water,
    )


def _passes(subject: Subject, drawn: Drawn) -> Values:
    share = drawn["failing_passes"] if subject.kidneys_fail else np.ones_like(drawn["slowed"])
    return np.asarray(share * subject.kidneys_of_young * (not subject.anuric))


def _at_rest(subject: Subject, drawn: Drawn) -> State:
    one = np.ones_like(drawn["ecf_share"])
    ecf = drawn["ecf_share"] * (subject.ecf_of_water / ECF_SHARE_ADULT) * subject.water_l
    organic = np.zeros((len(ORGANIC), one.size))
    organic[0] = subject.lactate_mmol_l * ecf
    plasma = subject.plasma_l * one
    ratio = subject.haematocrit / (1 - subject.haematocrit)
    return State(
        water=subject.water_l * one,
        ecf=ecf,
        plasma=plasma,
        red_cells=plasma * ratio,
        cell_osmoles=one,
        sodium=subject.sodium_mmol_l * ecf,
        potassium=subject.potassium_mmol_l * ecf,
        chloride=subject.chloride_mmol_l * ecf,
        organic=organic,
        phosphate=subject.phosphate_mmol_l * ecf,
        albumin_plasma=subject.albumin_g_l * plasma,
        albumin_interstitial=INTERSTITIAL_ALBUMIN * subject.albumin_g_l * (ecf - plasma),
        glucose=subject.glucose_mmol_l * ecf,
        **{name: 0 * one for name in NONE_AT_REST},
    )


def strong(state: State) -> Values:
    """Strong ion difference outside cells, mEq/L, unmeasured anions counted."""
    organic = ORGANIC_CHARGE @ state.organic
    cations = state.sodium + state.potassium + state.divalent
    return np.asarray((cations - state.chloride - organic - state.rest) / state.ecf)


def mean_albumin(state: State) -> Values:
    """Albumin over all fluid outside cells, g/L."""
    return (state.albumin_plasma + state.albumin_interstitial) / state.ecf


def base_outside(state: State) -> Values:
    """What bicarbonate would be at pH 7.4, mmol/L."""
    weak = weak_charge(mean_albumin(state), state.phosphate / state.ecf, NORMAL_PH)
    return strong(state) - weak


def osmoles(state: State) -> Values:
    """Osmoles outside cells that pull water, mosm: salts twice their cations, glucose, solutes."""
    salts = 2 * (state.sodium + state.potassium) + state.divalent
    return np.asarray(salts + state.glucose + state.solute)


def _rates(subject: Subject, drawn: Drawn) -> Values:
    """Rate at which each organic anion is burnt, /min; slower with a failing liver or in shock."""
    rates = LN2 / np.stack([drawn[f"{name}_min"] for name in ORGANIC])
    slowed = drawn["slowed"] ** (subject.liver_fails + subject.shock)
    return np.asarray(rates / slowed)


def _gone(rate: Values) -> Values:
    return np.asarray(1 - np.exp(-rate))


def decay_of(start: Start, drawn: Drawn, minutes: float) -> Decay:
    """What is left after so many minutes."""
    known = start.decays.get(minutes)
    if known is None:
        organic = np.exp(-start.rates * minutes)
        passes = start.passes * minutes
        known = start.decays[minutes] = Decay(
            organic=organic,
            made=start.lactate_made / start.rates[0] * (1 - organic[0]),
            glucose_gone=_gone(drawn["glucose_per_min"] * start.uses * minutes),
            excess_gone=_gone(drawn["excess_per_min"] * passes),
            mannitol_gone=_gone(LN2 / drawn["mannitol_min"] * passes),
            water_gained=_gone(minutes / drawn["water_lag_min"]),
            albumin_gone=_gone(drawn["albumin_escape_per_h"] * minutes / MINUTES_PER_HOUR),
        )
    return known


def burn(state: State, start: Start, drawn: Drawn, minutes: float) -> None:
    """Organic anions burnt, lactate made; what of gluconate is not burnt stays an anion."""
    decay = decay_of(start, drawn, minutes)
    gluconate = state.organic[GLUCONATE] * (1 - decay.organic[GLUCONATE])
    state.organic = state.organic * decay.organic
    state.organic[0] += decay.made
    state.rest = state.rest + gluconate * (1 - drawn["gluconate_share"])


def trade_with_cells(state: State, start: Start, drawn: Drawn, minutes: float) -> None:
    """Potassium into and out of cells for sodium, and base against the buffers of cells."""
    subject, ecf = start.subject, state.ecf
    gained = base_outside(state) - start.base
    glucose = np.maximum(state.glucose / ecf - subject.glucose_mmol_l, 0.0)
    insulin = state.acts * min(subject.potassium_mmol_l / POTASSIUM_IN_FULL, 1.0)
    kept_up = (
        subject.potassium_mmol_l
        + state.cell_potassium / start.potassium_l
        + POTASSIUM_PER_BASE * gained
        + drawn["potassium_per_mosm"] * np.maximum(osmoles(state) / ecf - start.osmoles_l, 0.0)
        + POTASSIUM_PER_GLUCOSE * start.uses * glucose
        - drawn["insulin_potassium"] * insulin
    )
    kept_up = np.maximum(kept_up, LEAST_POTASSIUM)
    moved = (state.potassium - kept_up * ecf) * (1 - np.exp(-minutes * start.clearance / ecf))
    moved = np.maximum(moved, MOST_AT_ONCE * state.sodium)
    give_potassium(state, -moved)
    ratio = 1 + start.buffer_l / ecf
    nearer = 1 - np.exp(-minutes / drawn["buffer_min"] * ratio)
    nearer = nearer * (gained - state.cell_base) / ratio
    state.rest = state.rest + start.buffer_l * nearer
    state.cell_base = state.cell_base + nearer


def share_water(state: State, start: Start, drawn: Drawn, minutes: float) -> None:
    """Water crosses cell walls towards one osmolality; potassium follows what grows outside."""
    outside = osmoles(state)
    settled = np.maximum(state.water * outside / (outside + state.cell_osmoles), start.least)
    gained = (settled - state.ecf) * decay_of(start, drawn, minutes).water_gained
    follows = POTASSIUM_FOLLOWS * start.subject.potassium_mmol_l * gained
    give_potassium(state, np.maximum(follows, MOST_AT_ONCE * state.potassium))
    state.ecf = state.ecf + gained


def give_potassium(state: State, given: Values | float) -> None:
    """Cells give potassium for sodium."""
    state.potassium = state.potassium + given
    state.sodium = state.sodium - given
    state.cell_potassium = state.cell_potassium - given


def trade_with_interstitium(state: State, start: Start, drawn: Drawn, minutes: float) -> None:
    """Plasma and interstitium trade water; colloid in plasma holds some; albumin escapes."""
    pull = (
        drawn["albumin_pull_ml_g"] * state.albumin_added
        + drawn["starch_pull_ml_g"] * state.starch
        + drawn["gelatin_pull_ml_g"] * state.gelatin
    ) / ML_PER_L
    rest = start.subject.plasma_l + pull
    above = state.plasma - rest
    total = state.ecf - start.ecf - pull
    full = np.maximum(above, 0.0) / start.subject.plasma_l
    both = drawn["out_per_min"] * (1 + FASTER_WHEN_FULL * full) + drawn["back_per_min"]
    settled = total * drawn["back_per_min"] / both
    above = settled + (above - settled) * np.exp(-both * minutes)
    state.plasma = np.maximum(rest + above, LEAST_SHARE * start.subject.plasma_l)
    escaped = state.albumin_added * decay_of(start, drawn, minutes).albumin_gone
    state.albumin_added = state.albumin_added - escaped
    state.albumin_plasma = state.albumin_plasma - escaped
    state.albumin_interstitial = state.albumin_interstitial + escaped
