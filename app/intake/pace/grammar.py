"""The grammar of rates: patterns over the classes of tokens, and what each stretch says."""

import re
from collections.abc import Callable
from typing import Final

from app.intake.pace.heard import Body, Heard, factor_of, figures, highest, hours_behind, shown
from app.intake.pace.tokens import HOURS_PER_DAY, MINUTES_PER_HOUR, Token
from app.physiology.body import surface_m2

# "100 hourly" is a rate, "8 hourly" one bag after another.
HOURLY_RATE_FROM: Final = 25.0
DAY_RATE_FROM: Final = 100.0
# A bare number this large is a volume; a smaller one may be of what was added.
VOLUME_FROM: Final = 50.0
MICRODROPS_PER_ML: Final = 60.0
# "At 0600" is a time.
CLOCK: Final = re.compile(r"0\d{3}")
RANGE: Final = "N(?:RV?N)?"
PER: Final = "[/a]"
Hear = Callable[[list[Token], Heard, Body], None]


def _hear_set(tokens: list[Token], heard: Heard, _body: Body) -> None:
    heard.drops_per_ml = tokens[0].value / tokens[-1].value or None


def _hear_drops(tokens: list[Token], heard: Heard, _body: Body) -> None:
    per_min = highest(tokens, heard, "drops/min") / (tokens[-1].value * MINUTES_PER_HOUR)
    heard.drops_per_min = per_min
    if any(token.written == "microdrop" for token in tokens):
        heard.drops_per_ml = MICRODROPS_PER_ML


def _hear_dose_rate(tokens: list[Token], heard: Heard, body: Body) -> None:
    hours = hours_behind(tokens)[0]
    if hours >= HOURS_PER_DAY:
        # An amount a day is put into the day's bags.
        return
    number, unit = tokens[0].value / hours, tokens[1].written
    if any(token.letter == "K" for token in tokens):
        if body.weight_kg is None:
            return
        number *= body.weight_kg
    heard.dose_rates.append((number, unit))


def _hear_surface(tokens: list[Token], heard: Heard, body: Body) -> None:
    number = highest(tokens, heard, "mL/m²") * factor_of(tokens, "V")
    if body.weight_kg is None or body.height_cm is None:
        heard.wants.append("A rate by body surface needs weight and height.")
        return
    area = surface_m2(body.height_cm, body.weight_kg)
    heard.rates.append(number * area / hours_behind(tokens)[0])


def _hear_kg_rate(tokens: list[Token], heard: Heard, body: Body) -> None:
    """ "2 mL/kg/h", "2 mL/h/kg", "mL/kg/h: 2"."""
    number = highest(tokens, heard, "mL/kg") * factor_of(tokens, "V")
    if body.weight_kg is None:
        heard.wants.append(f"{shown(tokens)} needs the weight.")
        return
    turned = tokens[-1].letter in "KN"
    hours = factor_of(tokens, "H") if turned else hours_behind(tokens)[0]
    heard.rates.append(number * body.weight_kg / hours)


def _hear_kg_volume(tokens: list[Token], heard: Heard, body: Body) -> None:
    if tokens[-1].letter == "/":
        heard.asks.append(f"{shown(tokens)}: per hour, per day, or in all?")
    elif body.weight_kg is None:
        heard.wants.append(f"{shown(tokens)} needs the weight.")
    else:
        number = highest(tokens, heard, "mL/kg") * factor_of(tokens, "V")
        heard.volumes.append(number * body.weight_kg)
        heard.by_kg = number


def _hear_either(tokens: list[Token], heard: Heard, _body: Body) -> None:
    one, other = figures(tokens)[:2]
    heard.asks.append(f"Two figures are written: {one:g} or {other:g}. Which is meant?")


def _hear_rate(tokens: list[Token], heard: Heard, _body: Body) -> None:
    hours, count = hours_behind(tokens)
    ml = highest(tokens, heard, "mL/h") * factor_of(tokens, "V")
    if count > 1 and hours != HOURS_PER_DAY:
        _hear_bag_over(ml, hours, heard)
    else:
        heard.rates.append(ml / hours)


def _hear_bag_over(ml: float, hours: float, heard: Heard) -> None:
    heard.volumes.append(ml)
    heard.intervals.append(hours)


def _hear_unitless_rate(tokens: list[Token], heard: Heard, _body: Body) -> None:
    hours, count = hours_behind(tokens)
    number = highest(tokens, heard, "mL/h")
    by_day = hours == HOURS_PER_DAY and number >= DAY_RATE_FROM
    if count > 1 and not by_day:
        _hear_bag_over(number, hours, heard)
    elif hours == 1.0 or by_day:
        heard.rates.append(number / hours)
    else:
        heard.asks.append(f"{shown(tokens)}: so much of what?")


def _hear_rate_unparted(tokens: list[Token], heard: Heard, body: Body) -> None:
    """ "42 ml hr": the stroke left out; never a day or a minute, which may stand for more."""
    if tokens[-1].written.startswith("h"):
        _hear_rate(tokens, heard, body)
    else:
        _hear_volume(tokens[:-1], heard, body)


def _hear_reversed(tokens: list[Token], heard: Heard, _body: Body) -> None:
    heard.rates.append(factor_of(tokens, "N") * factor_of(tokens, "V") / factor_of(tokens, "H"))


def _hear_bags_a_day(tokens: list[Token], heard: Heard, _body: Body) -> None:
    if tokens[0].value:
        heard.intervals.append(hours_behind(tokens)[0] / tokens[0].value)


def _hear_bare_volume(number: float, heard: Heard) -> None:
    if number >= VOLUME_FROM:
        heard.bare_volume = number


def _hear_over(tokens: list[Token], heard: Heard, _body: Body) -> None:
    """ "Over 8 h", "for 1 hr 30", "x 24 h", "over 1/24"."""
    behind = [token for token in tokens if token.letter in "NRHL"]
    if tokens[0].letter == "N" and tokens[1].letter == "O":
        _hear_bare_volume(tokens[0].value, heard)
        behind = behind[1:]
    heard.of_bag |= any(token.letter == "O" for token in tokens)
    if behind and behind[-1].letter == "L":
        heard.durations.append(behind[-1].value)
        return
    first, unit = _shortest(behind, heard), factor_of(behind, "H")
    figures_of = figures(behind)
    is_two = len(figures_of) > 1 and "R" not in {t.letter for t in behind}
    minutes = figures_of[1] / MINUTES_PER_HOUR if is_two else 0.0
    heard.durations.append(first * unit + minutes)


def _shortest(tokens: list[Token], heard: Heard) -> float:
    """The number of a length, or the shortest of its range, which is the fastest; one for none."""
    numbers = figures(tokens)
    if "R" not in {token.letter for token in tokens}:
        return numbers[0] if numbers else 1.0
    low, high = sorted(numbers[:2])
    unit = next((token.written for token in tokens if token.letter == "H"), "")
    heard.notes.append(f"{low:g} to {high:g} {unit} is judged at {low:g} {unit}.")
    return low


def _hear_every(tokens: list[Token], heard: Heard, _body: Body) -> None:
    hours = factor_of(tokens, "L", 0.0) or factor_of(tokens, "N") * factor_of(tokens, "H")
    if tokens[-1].letter == "Y" and hours >= HOURLY_RATE_FROM:
        heard.rates.append(hours)
        return
    heard.intervals.append(hours)


def _hear_times_a_day(tokens: list[Token], heard: Heard, _body: Body) -> None:
    heard.intervals.append(HOURS_PER_DAY / tokens[-1].value)


def _hear_either_over(tokens: list[Token], heard: Heard, _body: Body) -> None:
    one, other = figures(tokens)[:2]
    heard.asks.append(f"Over {one:g} or over {other:g} hours?")


def _hear_volume(tokens: list[Token], heard: Heard, _body: Body) -> None:
    if tokens[-1].letter == "/":
        heard.asks.append(f"{shown(tokens)}: per hour, or per day?")
        return
    if tokens[-1].written.startswith("pint"):
        heard.notes.append("A pint is read as a bag of 500 mL.")
    bags, *volume = figures(tokens) if any(t.letter == "X" for t in tokens) else (1, 0)
    if bags > 1:
        heard.bags, heard.counted_first = int(bags), True
    number = volume[0] if bags > 1 else highest(tokens, heard, "mL")
    heard.volumes.append(number * tokens[-1].value)


def _hear_volume_and_bags(tokens: list[Token], heard: Heard, _body: Body) -> None:
    """ "250 x 2": a volume and how often."""
    number, count = figures(tokens)
    heard.bags = max(int(count), 1)
    _hear_bare_volume(number, heard)


def _hear_bags(tokens: list[Token], heard: Heard, _body: Body) -> None:
    heard.bags = max(int(factor_of(tokens, "N")), 1)


def _hear_bare_over(tokens: list[Token], heard: Heard, _body: Body) -> None:
    if tokens[-2].written != "over":
        return
    if tokens[0].letter == "N":
        _hear_bare_volume(tokens[0].value, heard)
    heard.bare_over = tokens[-1].value


def _hear_at(tokens: list[Token], heard: Heard, _body: Body) -> None:
    if not heard.rates and not CLOCK.fullmatch(tokens[-1].written):
        heard.bare, heard.is_at = highest(tokens, heard, "mL/h"), True


def _ignore(_tokens: list[Token], _heard: Heard, _body: Body) -> None:
    """What is no figure of the infusion: amounts and strengths of what is in the bag."""


# Tried in this order; what one pattern has used the next does not see.
GRAMMAR: Final[tuple[tuple[re.Pattern[str], Hear], ...]] = tuple(
    (re.compile(pattern), take)
    for pattern, take in (
        ("NG/V", _hear_set),
        (f"N(?:RN)?G{PER}?H", _hear_drops),
        (f"NM(?:/K)?{PER}(?:N?H|Y)|NMY", _hear_dose_rate),
        (f"{RANGE}M(?:/N?V|/K|{PER}H)?|{RANGE}P|M/V", _ignore),
        (f"{RANGE}V?/S(?:/N?H|D|Y)", _hear_surface),
        (f"{RANGE}V?{PER}K(?:{PER}N?H|Y|D)|{RANGE}V?{PER}H{PER}K|V/K/H@?N", _hear_kg_rate),
        (f"{RANGE}V?{PER}K/?", _hear_kg_volume),
        (f"N/NV?{PER}H|N(?:V?{PER}?H)?rNV?{PER}?H", _hear_either),
        ("ON/NH|ONrNH", _hear_either_over),
        (f"{RANGE}V(?:{PER}N?H|/L|Y|D|QH)", _hear_rate),
        ("V/H@?N|VN[/a]H", _hear_reversed),
        (f"{RANGE}VH", _hear_rate_unparted),
        (f"{RANGE}{PER}N?H", _hear_unitless_rate),
        (f"NB(?:{PER}N?H|D)", _hear_bags_a_day),
        (f"NH{PER}B", _hear_every),
        ("(?<!O)NXN(?![HV/L])", _hear_volume_and_bags),
        ("XN(?![HV/L])B?", _hear_bags),
        (f"(?:N?O|[FX]){RANGE}H(?:NH?(?![V/]))?|N?Oa?H|N?OL|[FX]L|Fa?H", _hear_over),
        ("QNH?(?!V)|NY|NHB|L", _hear_every),
        ("(?<=V),?NH(?:NH)?(?!/)|^@?NH$", _hear_over),
        ("T", _hear_times_a_day),
        (f"NX{PER}?[HD]", _hear_bags_a_day),
        (f"NXNV|{RANGE}V/?", _hear_volume),
        ("N?ON(?![VMPGKHN/])", _hear_bare_over),
        ("XNB?|NX|NB", _hear_bags),
        (f"@{RANGE}(?![VMPGKH/])", _hear_at),
    )
)  # fmt: skip
