"""What is said of sodium over a day: short enough to be read aloud, with the figure in it."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from app.cautions.phrases import lowered
from app.cautions.registry import RULE_BY_ID
from app.cautions.rule import Level, Limits
from app.web.pictures.curves import Curve
from app.web.prediction.asked import Asked
from app.web.prediction.bag.vein import is_strong_saline
from app.web.prediction.panels import value_at
from app.web.prediction.person import Person
from app.web.prediction.sodium.helps import (
    FITS_FIRST_MMOL_L,
    Bolus,
    again_words,
    brain_words,
    is_past,
    rescue_words,
    urine_words,
)
from app.web.prediction.sodium.leads import Lead, both_ends, lead_of
from app.web.prediction.sodium.limits import READS_AS_MORE, TWO_DAYS, DayLimits, day_limits
from app.web.prediction.sodium.reach import Stand, stands
from app.web.prediction.sodium.trend import trend_words
from app.web.prediction.sodium.ways import Look, Trial, Way, is_urine_open, looks_of
from app.web.show import amount, capital, number

# Rules that speak of sodium: none of their findings stands beside a sentence that all is well.
SODIUM_RULES: Final = ("na-", "neo-na", "water-alone", "des-water", "di-salt", "ord-water")
BOLUS_MIN: Final = 60.0
BOLUS_ML: Final = 500.0
SEND_URINE: Final = "Send urine sodium and potassium."
SAME_MMOL_L: Final = 0.5
SODIUM: Final = "sodium"


@dataclass(frozen=True, slots=True)
class LimitText:
    """One limit that counts here: its words, what it is for, and where its value comes from."""

    words: str
    meaning: str
    source: str


@dataclass(frozen=True, slots=True)
class Around:
    """What counts besides the bags. warned: marks of those that a rule on sodium speaks of. bolus:
    where the bag is one. urine: said of urine of which nobody knows what it holds.
    """

    warned: frozenset[str] = frozenset()
    bolus: Bolus | None = None
    urine: str = ""


@dataclass(frozen=True, slots=True)
class Top:
    """What the prediction says beside the findings of the rules."""

    level: Level
    text: str


NOTHING_ELSE: Final = Around()


@dataclass(frozen=True, slots=True)
class SodiumWords:
    """What stands beside the picture of sodium. leads: the sentences to be read first.

    heads: of the columns of limits in the table. rescue, brain: empty where they do not apply;
    brain_first: a fit is spoken of before anything else. lines: to be drawn besides. tops: what
    passes a limit, for the place where findings stand.
    """

    rule_id: str
    why_none: str
    leads: tuple[str, ...]
    again: str
    rescue: str
    brain: str
    counted: str
    limits: tuple[LimitText, ...]
    heads: tuple[str, ...]
    marks: tuple[str, ...]
    stands: tuple[Stand, ...]
    brain_first: bool = False
    lines: tuple[Curve, ...] = ()
    tops: tuple[Top, ...] = ()

    @property
    def applies(self) -> bool:
        """True where a limit counts in this person."""
        return bool(self.limits)

    @property
    def is_said(self) -> bool:
        """True where there is anything to be read first."""
        return bool(self.limits or self.leads or self.again)


def sodium_of(
    trial: Trial, limits: Mapping[str, Limits], warned: Mapping[str, Collection[str]]
) -> SodiumWords:
    """All of it for what is tried. limits: in force, by rule. warned: ids of the rules that speak
    of a bag, by its mark.
    """
    day = day_limits(trial.person, trial.subject.sodium_mmol_l, limits)
    urine = f"Urine {amount(trial.urine_ml_h, 'mL/h')}: what it holds is not known."
    around = Around(
        warned=frozenset(mark for mark, rules in warned.items() if any(map(of_sodium, rules))),
        bolus=_bolus(trial.asked, day, limits),
        urine=urine if is_urine_open(trial) else "",
    )
    words = sodium_words(trial.person, looks_of(trial), day, around)
    return words if SODIUM in trial.person.results else _not_known(words, day)


def _not_known(words: SodiumWords, day: DayLimits) -> SodiumWords:
    """The same where nobody measured sodium: no figures but in a sentence that says so."""
    if not words.leads:
        return words
    now, (lead, *rest) = number(day.now_mmol_l), words.leads
    first = f"No sodium is known. From {now} mmol/L, which is assumed: {lowered(lead)}"
    bare = replace(words, marks=(), stands=(), tops=(), lines=())
    return replace(bare, leads=(first, *rest), again="Sodium now.")


def of_sodium(rule_id: str) -> bool:
    """True for a rule that speaks of sodium, or of water that lowers it."""
    return rule_id.startswith(SODIUM_RULES)


def sodium_words(
    person: Person, looks: Sequence[Look], day: DayLimits, around: Around = NOTHING_ELSE
) -> SodiumWords:
    """All of it. looks: one a bag."""
    leads = [lead_of(one, day, warned=_is_warned(one, looks, around)) for one in looks]
    trend = trend_words(day, looks[0].drawn)
    if trend:
        leads = [replace(lead, near=True) for lead in leads]
    brain = brain_words(person, day)
    again = again_words(person, leads, day, around.bolus)
    ways = tuple(_parting(looks))
    curves = (*(one.drawn for one in looks), *(replace(w.curve, mark=w.word) for w in ways))
    return SodiumWords(
        rule_id=day.rule_id,
        why_none=day.why_none,
        leads=tuple(_said(person, (looks, leads), day, (trend, around.urine))),
        again=" ".join(part for part in (again, SEND_URINE if around.urine else "") if part),
        rescue=rescue_words(leads, day),
        brain=brain,
        counted=_counted(day, person.recorded_onset),
        limits=tuple(_limit_text(name, day) for name in day.names),
        heads=tuple(day.change_words(name) for name in day.names),
        marks=tuple(curve.mark for curve in curves),
        stands=stands(curves, day) if day.names or len(curves) > len(looks) else (),
        lines=tuple(replace(way.curve, mark=way.name) for way in ways),
        brain_first=bool(brain) and day.sign > 0 and day.now_mmol_l < FITS_FIRST_MMOL_L,
        tops=tuple(_tops(leads, day)),
    )


def _is_warned(look: Look, looks: Sequence[Look], around: Around) -> bool:
    return bool(around.warned) if len(looks) == 1 else look.mark in around.warned


def _tops(leads: Sequence[Lead], day: DayLimits) -> Iterator[Top]:
    """What stands beside the findings; what was passed before is not passed again."""
    for text in _already(day):
        yield Top("critical", text)
    for lead in leads:
        if lead.level and not (is_past(day) and lead.hours == 0.0):
            yield Top(lead.level, lead.text)


def _said(
    person: Person,
    of: tuple[Sequence[Look], Sequence[Lead]],
    day: DayLimits,
    besides: tuple[str, str],
) -> Iterator[str]:
    """What is read first: what has passed, what the results say, each bag, and urine."""
    (looks, leads), (trend, unknown) = of, besides
    yield from _already(day)
    if trend:
        yield trend
    for look, lead in zip(looks, leads, strict=True):
        again = is_past(day) and lead.hours == 0.0
        text = both_ends(look) if again else lead.text
        if text:
            yield text
    urine = unknown or urine_words(person, day)
    if unknown or (urine and any(lead.text and not lead.falls for lead in leads)):
        yield urine


def _parting(looks: Sequence[Look]) -> Iterator[Way]:
    """Of one bag the ways that part from it as it is drawn."""
    if len(looks) == 1:
        (look,) = looks
        yield from (way for way in look.ways if _parts(way.curve, look.drawn))


def _parts(curve: Curve, drawn: Curve) -> bool:
    pairs = zip(curve.hours, curve.mid, strict=True)
    return any(abs(value_at(drawn, drawn.mid, at) - mid) > SAME_MMOL_L for at, mid in pairs)


def _bolus(asked: Asked, day: DayLimits, limits: Mapping[str, Limits]) -> Bolus | None:
    """A short bag of strong saline for a low sodium."""
    volume_ml, minutes = asked.volume_ml or 0.0, asked.minutes or 0.0
    if day.sign < 0 or not day.names or minutes > BOLUS_MIN or volume_ml > BOLUS_ML:
        return None
    strong = any(is_strong_saline(bag.mix(volume_ml), limits) for bag in asked.bags)
    return Bolus(minutes) if strong else None


def _already(day: DayLimits) -> Iterator[str]:
    """That a limit was passed before anything is tried."""
    way = "risen" if day.sign > 0 else "fallen"
    for name in reversed(day.names):
        if day.is_past(name):
            yield (
                f"Sodium has {way} {number(day.already_mmol_l)} mmol/L already: past "
                f"{day.change_words(name)}."
            )
            break
    most = day.limits.get(TWO_DAYS)
    moved = day.now_mmol_l - min(point.value for point in day.points)
    if day.names and most is not None and moved - most >= READS_AS_MORE:
        yield f"Sodium has risen {number(moved)} mmol/L in 48 h: past +{number(most)} in 48 h."


def _counted(day: DayLimits, recorded: str) -> str:
    """Which limits count, and from where, in words. recorded: a short standing on record."""
    if not day.names:
        return day.why_none
    first = day.counted_from
    since = f"counted from {number(first.value)} mmol/L ({first.title})"
    if day.acute:
        how = f"on record as “{recorded}”" if recorded else "known to be under 48 h old"
        return f"{capital(how)}: only the highest limit is kept, {since}."
    against = f" (chosen here, on record as “{recorded}”)" if recorded else ""
    if day.risks:
        return f"High risk ({', '.join(day.risks)}){against}, {since}."
    marks = ", no mark of high risk on record" if day.sign > 0 else ""
    return f"For 48 h or more, or not known{against}{marks}; {since}."


def _limit_text(name: str, day: DayLimits) -> LimitText:
    rule = RULE_BY_ID[day.rule_id]
    limit = next(one for one in rule.limits if one.name == name)
    source = limit.source or rule.sources[0]
    changed = day.limits[name] != limit.value
    seen = "" if source.seen else ", from memory"
    return LimitText(
        words=day.change_words(name),
        meaning=limit.meaning,
        source=f"set by this unit; {number(limit.value)} as shipped"
        if changed
        else f"{source.work}{seen}",
    )
