"""Where water, salt, protein and base are, for many people at once, and one step in time.

Salt mixes over all fluid outside cells; water goes where osmoles pull it; plasma and interstitium
trade water at rates of their own; cells give and take base and potassium for sodium.
"""

from dataclasses import dataclass, field
from typing import Final

import numpy as np

from app.physiology.course.body import Subject
from app.physiology.course.charges import NORMAL_PH, weak_charge
from app.physiology.course.kidneys.defended import Defended, defended
from app.physiology.course.loads import ORGANIC, ORGANIC_CHARGE
from app.physiology.course.parameters import SALT_OSMOLES, Drawn, Values
from app.physiology.course.sizes import ECF_SHARE_ADULT

LN2: Final = float(np.log(2.0))
ML_PER_L: Final = 1000.0
MINUTES_PER_HOUR: Final = 60.0
# Albumin of the interstitium as a share of plasma's (about a third: trial readings).
INTERSTITIAL_ALBUMIN: Final = 0.35
# Potassium that cells add to fluid outside them as it grows, so that volume alone dilutes little.
POTASSIUM_FOLLOWS: Final = 0.8
# Most of what plasma holds of an ion that a shift takes at once.
MOST_AT_ONCE: Final = -0.5
# Nobody lives with less of what is outside cells or in plasma: the course stops falling there.
LEAST_SHARE: Final = 0.4
LEAST_OUTSIDE: Final = 0.2
NONE_AT_REST: Final = (
    "divalent", "rest", "starch", "gelatin", "solute", "mannitol", "insulin", "acts",
    "cell_potassium", "cell_base", "far", "used_to", "thin_felt",
)  # fmt: skip
# Albumin below usual leaks more: its share to this power, at most so many times.
LEAKS_MOST: Final = 2.5
# A potassium below this is no well person's, mmol/L.
LEAST_OF_THE_WELL: Final = 3.5


@dataclass(slots=True)
class State:
    """Amounts: L, mmol, mEq, g. organic: a row for each of ORGANIC. rest: unmeasured anions and
    what cells took or gave as base. divalent: charge of calcium and magnesium added. solute: what
    else pulls water; mannitol: how much of it is mannitol. insulin: units in plasma, above the
    start's; acts: its effect, of the full one. far: what the far part of the interstitium
    gained, L. used_to: osmolality above the start that cells are used to; thin_felt: how thin
    plasma is to kidneys, which learn of it with a delay; mosm/kg.
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
    starch: Values
    gelatin: Values
    glucose: Values
    solute: Values
    mannitol: Values
    insulin: Values
    acts: Values
    cell_potassium: Values
    cell_base: Values
    far: Values
    used_to: Values
    thin_felt: Values


@dataclass(frozen=True, slots=True)
class Decay:
    """Share of each gone or gained after a step; worked out once for each length of step. excess:
    times the rate, before it is slowed; sodium_l and filtered_l: cleared of it, and filtered, L.
    """

    glucose_gone: Values
    excess: Values
    sodium_l: Values
    filtered_l: Values
    mannitol_gone: Values
    acid_gone: Values
    water_gained: Values
    albumin_gone: Values
    far: Values
    used_to: Values
    felt: Values


@dataclass(frozen=True, slots=True)
class Start:
    """What the state is compared with: sizes and concentrations before the infusion. least: what
    stays outside cells, L; passes and uses: what ills leave of what kidneys pass and of the use of
    glucose; filtered: by the kidneys, L/min; of cells the potassium's space, L, its clearance into
    them, L/min, their buffers, L.
    """

    subject: Subject
    ecf: Values
    least: Values
    sodium: Values
    albumin: float
    osmoles_l: Values
    base: Values
    rates: Values
    far_of: Values
    leaks: Values
    defends: Defended
    passes: Values
    filtered: Values
    uses: Values
    potassium_l: Values
    clearance: Values
    buffer_l: Values
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
    base, one, kg = base_outside(state), np.ones_like(state.ecf), subject.weight_kg
    passes = _passes(subject, drawn)
    stores = drawn["failing_stores"] if subject.kidneys_fail else one
    return state, Start(
        subject=subject,
        ecf=state.ecf.copy(),
        least=LEAST_OUTSIDE * state.ecf,
        sodium=state.sodium.copy(),
        albumin=subject.albumin_g_l * subject.plasma_l,
        osmoles_l=osmoles_l,
        base=base,
        rates=_rates(subject, drawn),
        far_of=_far_of(drawn),
        leaks=_leaks(subject, drawn),
        defends=defended(subject, drawn, (osmoles_l, base), keeps_water=keeps_water),
        passes=passes,
        filtered=kg * drawn["filtered_l_kg_min"] * passes,
        uses=drawn["diabetic_share"] if subject.diabetes else one,
        potassium_l=kg * drawn["potassium_l_kg"] * stores,
        clearance=kg * drawn["potassium_l_kg_min"] * _takes_up(subject, drawn),
        buffer_l=kg * drawn["buffer_l_kg"],
    )


def _takes_up(subject: Subject, drawn: Drawn) -> Values:
    """Pace of potassium into cells, as a share of that of the ill people it was read from."""
    if subject.kidneys_fail:
        return drawn["failing_takes_up"]
    low = subject.potassium_mmol_l < LEAST_OF_THE_WELL
    well = not (low or subject.diabetes or subject.shock or subject.conditions)
    return drawn["healthy_takes_up"] if well else np.ones_like(drawn["slowed"])


def _leaks(subject: Subject, drawn: Drawn) -> Values:
    """How much faster water leaves plasma where albumin is below usual."""
    lacks = max(subject.usual["albumin"] / max(subject.albumin_g_l, 1.0), 1.0)
    return np.asarray(np.minimum(lacks ** drawn["leaks_by_albumin"], LEAKS_MOST))


def _far_of(drawn: Drawn) -> Values:
    """The far part's share of what the interstitium has gained, at rest."""
    into = drawn["far_in_per_min"]
    return np.asarray(into / (into + drawn["far_back_per_min"]))


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
    """Osmoles outside cells that pull water, mosm: salts by their cations, glucose, solutes."""
    salts = SALT_OSMOLES * (state.sodium + state.potassium + state.divalent / 2)
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
        passes, kg = start.passes * minutes, start.subject.weight_kg
        known = start.decays[minutes] = Decay(
            glucose_gone=_gone(drawn["glucose_per_min"] * start.uses * minutes),
            acid_gone=_gone(passes / (drawn["acid_h"] * MINUTES_PER_HOUR)),
            excess=drawn["excess_per_min"] * passes * start.defends.salt,
            sodium_l=drawn["natriuresis_l_kg_min"] * passes * start.defends.salt * kg,
            filtered_l=start.filtered * minutes,
            mannitol_gone=_gone(LN2 / drawn["mannitol_min"] * passes),
            water_gained=_gone(minutes / drawn["water_lag_min"]),
            albumin_gone=_gone(drawn["albumin_escape_per_h"] * minutes / MINUTES_PER_HOUR),
            far=_gone((drawn["far_in_per_min"] + drawn["far_back_per_min"]) * minutes),
            used_to=_gone(minutes / drawn["used_to_min"]),
            felt=_gone(minutes / drawn["water_felt_min"]),
        )
    return known


def give_potassium(state: State, given: Values | float) -> None:
    """Cells give potassium for sodium."""
    state.potassium = state.potassium + given
    state.sodium = state.sodium - given
    state.cell_potassium = state.cell_potassium - given
