"""A line-plan request read: lumens, infusions, what must be kept apart, how far and how finely."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Final, cast

from app.intake.read import SITES
from app.intake.request import Problems, Reader, Span
from app.lines.blood import DONE_WITHIN_MIN, too_long
from app.lines.meeting import carriers, starts, window
from app.lines.model import Infusion, KeepApart, Kind, Lumen, Problem, Role, Scope, Site
from app.review.predict.notes import Note, notes_of_questions
from app.review.predict.pace import MINUTES, WEEK_MIN

USUAL_HORIZON_MIN: Final = 720
USUAL_STEP_MIN: Final = 5
HORIZON: Final = Span(1, WEEK_MIN, "min", MINUTES)
SPELL: Final = Span(0, WEEK_MIN, "min", MINUTES)
LENGTH: Final = Span(0, WEEK_MIN, "min", MINUTES, above=True)
AT_ONCE: Final = Span(1, 100, "infusions")
WHOLE: Final = "a whole number of minutes"
MOST_LUMENS: Final = 20
MOST_INFUSIONS: Final = 60
KINDS: Final = {kind: kind for kind in ("continuous", "intermittent", "blood")}
ROLES: Final = {role: role for role in ("nutrition", "vasoactive", "monitoring")}
SCOPES: Final = {scope: scope for scope in ("lumen", "patient")}
PAIR: Final = 2
OF_TIMED: Final = ("duration_min", "earliest_start_min", "latest_end_min")


@dataclass(frozen=True, slots=True)
class LinesAsked:
    """A request as understood. use_catalogue: add the pairs that the table of pairs gives."""

    problem: Problem
    use_catalogue: bool
    notes: tuple[Note, ...] = ()


def read_lines(request: Mapping[str, Any]) -> LinesAsked:
    """What a line-plan request asks.

    Raises InputError, or InputErrors, by field: for what has the wrong shape, a window shorter
    than its dose, a pair naming what does not run, a name used twice, no lumen at all.
    """
    problems = Problems()
    reader = Reader(request, "", problems)
    problem = _times(reader)
    lumens = tuple(_lumen(one) for one in _some(reader, "lumens", MOST_LUMENS))
    readers = _some(reader, "infusions", MOST_INFUSIONS)
    infusions = tuple(_infusion(one) for one in readers)
    _refuse_twice(reader, "lumens", [lumen.id for lumen in lumens])
    _refuse_twice(reader, "infusions", [infusion.id for infusion in infusions])
    problem = replace(problem, lumens=lumens, infusions=infusions)
    for one, infusion in zip(readers, infusions, strict=True):
        _refuse_window(one, problem, infusion)
        _refuse_names(one, problem, infusion)
    apart = tuple(_pairs(reader, frozenset(problem.by_id()))) if infusions else ()
    use_catalogue = _flag(reader, "use_catalogue")
    reader.ask_unknown()
    problems.stop_if_any()
    notes = tuple(notes_of_questions(problems.questions))
    return LinesAsked(replace(problem, keep_apart=apart), use_catalogue, notes)


def _times(reader: Reader) -> Problem:
    horizon_min = _whole(reader, "horizon_min", HORIZON, USUAL_HORIZON_MIN)
    step_min = _whole(reader, "step_min", HORIZON, min(USUAL_STEP_MIN, horizon_min))
    flush_min = _whole(reader, "flush_min", SPELL, 0)
    if step_min > horizon_min:
        reader.refuse("step_min", step_min, f"at most the horizon, {horizon_min} min")
        step_min = 1  # so that no window is blamed for it
    if flush_min > horizon_min:
        reader.refuse("flush_min", flush_min, f"at most the horizon, {horizon_min} min")
    most = _maybe_whole(reader, "most_at_once", AT_ONCE)
    return Problem(horizon_min, step_min, flush_min, (), (), most_at_once=most)


def _some(reader: Reader, name: str, most: int) -> tuple[Reader, ...]:
    readers = reader.readers(name)
    if 1 <= len(readers) <= most:
        return readers
    if not any(error.field == name for error in reader.problems.errors):
        reader.refuse(name, f"{len(readers)} entries", f"1 to {most} entries")
    return ()


def _lumen(reader: Reader) -> Lumen:
    name = _needed(reader, "id", reader.label("id"), "a name for it")
    site = _needed(reader, "site", reader.choice("site", SITES), "peripheral or central")
    role = reader.choice("role", ROLES) or ""
    reader.ask_unknown()
    return Lumen(name, cast(Site, site), cast(Role, role))


def _needed(reader: Reader, field: str, read: str | None, accepted: str) -> str:
    """A text that must be there; what could not be read was refused already."""
    if read is None and reader.raw(field) in (None, ""):
        reader.refuse(field, None, accepted)
    return read or ""


def _infusion(reader: Reader) -> Infusion:
    name = _needed(reader, "id", reader.label("id"), "a name for it")
    kind = cast(Kind, _needed(reader, "kind", reader.choice("kind", KINDS), " or ".join(KINDS)))
    infusion = Infusion(
        name,
        reader.text("name") or name,
        kind,
        exclusive=_flag(reader, "exclusive"),
        may_share_with_exclusive=frozenset(_labels(reader, "may_share_with_exclusive")),
        needs_central=_flag(reader, "needs_central"),
        role=cast(Role, reader.choice("role", ROLES) or ""),
        stays_on=reader.label("stays_on"),
        order_id=reader.label("order_id"),
        beside=reader.label("beside"),
    )
    timed, paused = _timing(reader, infusion), _pausing(reader, infusion)
    reader.ask_unknown()
    return paused if infusion.continuous else timed


def _timing(reader: Reader, infusion: Infusion) -> Infusion:
    """With duration and window; of a continuous one what is written of them is told."""
    timed = replace(
        infusion,
        duration_min=_maybe_whole(reader, "duration_min", SPELL if infusion.continuous else LENGTH),
        earliest_start_min=_whole(reader, "earliest_start_min", SPELL, 0),
        latest_end_min=_maybe_whole(reader, "latest_end_min", SPELL),
    )
    if not infusion.continuous:
        if infusion.kind and reader.raw("duration_min") in (None, ""):
            reader.refuse("duration_min", None, LENGTH.accepted)
        return timed
    for field in OF_TIMED:
        if reader.raw(field):
            reader.ask(field, reader.raw(field), "Not used: a continuous infusion runs throughout.")
    return infusion


def _pausing(reader: Reader, infusion: Infusion) -> Infusion:
    """With whether and for how long it may pause."""
    may_pause = _flag(reader, "may_pause")
    most_min = _maybe_whole(reader, "max_pause_min", SPELL)
    return replace(infusion, may_pause=may_pause, max_pause_min=most_min)


def _refuse_window(reader: Reader, problem: Problem, infusion: Infusion) -> None:
    """A window in which the dose does not fit; where it fits at no step that is told."""
    length_min = infusion.duration_min
    if length_min is None:
        return
    earliest, latest = window(problem, infusion)
    field = "duration_min" if infusion.latest_end_min is None else "latest_end_min"
    cut = f" (the plan ends at {problem.horizon_min} min)" if latest == problem.horizon_min else ""
    if latest - earliest < length_min:
        accepted = f"a window of at least {length_min} min from {earliest} min on{cut}"
        reader.refuse(field, reader.raw(field), accepted)
    elif starts(problem, infusion)[0] % problem.step_min:
        text = f"No step of {problem.step_min} min is within its window: it starts at {earliest}."
        reader.ask("earliest_start_min", infusion.earliest_start_min, text)


def _refuse_names(reader: Reader, problem: Problem, infusion: Infusion) -> None:
    """A carrier that does not run, or not all the time; other names that nothing has are told."""
    by_id, lumens = problem.by_id(), {lumen.id for lumen in problem.lumens}
    if infusion.beside is not None:
        carrier = by_id.get(infusion.beside)
        circle = carrier is not None and infusion.id in carriers(carrier, by_id)
        if carrier is None or not carrier.continuous or carrier is infusion or circle:
            accepted = "the id of a continuous infusion that carries this one"
            reader.refuse("beside", infusion.beside, accepted)
    if infusion.stays_on is not None and infusion.stays_on not in lumens:
        text = "No lumen given has this name: taken as gone, so this infusion moves."
        reader.ask("stays_on", infusion.stays_on, text)
    unknown = sorted(infusion.may_share_with_exclusive - set(by_id))
    if unknown:
        these = "this id" if len(unknown) == 1 else "these ids"
        text = f"No infusion given has {these}; nothing follows from it."
        reader.ask("may_share_with_exclusive", ", ".join(unknown), text, minor=True)
    if too_long(infusion):
        text = f"Blood is to be in within {DONE_WITHIN_MIN} min of leaving its fridge."
        reader.ask("duration_min", infusion.duration_min, text)
    latest = infusion.latest_end_min
    if latest is not None and latest > problem.horizon_min:
        text = f"The plan ends at {problem.horizon_min} min, and the window is cut there."
        reader.ask("latest_end_min", latest, text)


def _refuse_twice(reader: Reader, name: str, ids: Sequence[str]) -> None:
    for number, one in enumerate(ids):
        if one and one in ids[:number]:
            field = f"{reader.at(name)}[{number}].id"
            reader.refuse_at(field, one, "an id that no other has")


def _pairs(reader: Reader, known: frozenset[str]) -> Iterator[KeepApart]:
    for one in reader.readers("keep_apart"):
        pair = tuple(_labels(one, "pair"))
        scope = one.choice("scope", SCOPES) or "lumen"
        why = one.text("why") or ""
        one.ask_unknown()
        if len(pair) != PAIR or len(set(pair)) != PAIR or not known.issuperset(pair):
            accepted = f"the ids of two infusions given: {', '.join(sorted(known))}"
            one.refuse("pair", one.raw("pair"), accepted)
        else:
            yield KeepApart((pair[0], pair[1]), cast(Scope, scope), why)


def _labels(reader: Reader, name: str) -> Iterator[str]:
    """A list of names, whole numbers among them."""
    for number, item in enumerate(reader.sequence(name)):
        if isinstance(item, str) or (isinstance(item, int) and not isinstance(item, bool)):
            yield str(item).strip()
        else:
            reader.refuse(f"{name}[{number}]", item, "a name")


def _flag(reader: Reader, name: str) -> bool:
    value = reader.raw(name)
    if value is None or isinstance(value, bool):
        return bool(value)
    reader.refuse(name, value, "true or false")
    return False


def _whole(reader: Reader, name: str, span: Span, usual: int) -> int:
    """A whole number; the usual one when nothing is given."""
    read = _maybe_whole(reader, name, span)
    return usual if read is None else read


def _maybe_whole(reader: Reader, name: str, span: Span) -> int | None:
    read = reader.number(name, span)
    if read is None or read.is_integer():
        return None if read is None else int(read)
    reader.refuse(name, reader.raw(name), WHOLE)
    return None
