"""When the results behind a finding were taken: a figure without its age is half a figure."""

from collections.abc import Mapping

from app.patient.observation import Observation
from app.patient.snapshot import Snapshot
from app.web import show
from app.web.advice.figures import Figure, bare_and_unit, figure

Figures = Mapping[str, float | str]


def dated_figures(figures: Figures, patient: Snapshot) -> tuple[Figure, ...]:
    """A finding's figures; those that are the patient's own newest results say since when."""
    return tuple(figure(key, value, _note(key, value, patient)) for key, value in figures.items())


def taken_words(figures: Figures, patient: Snapshot) -> str:
    """In one phrase: "Potassium taken 05:35". Empty when no figure is a result."""
    by_time: dict[str, list[str]] = {}
    for key, value in figures.items():
        one = _newest(key, value, patient)
        if one is not None:
            when = show.clock(one.taken_at, patient.now)
            by_time.setdefault(when, []).append(show.name_text(one.name))
    taken = "; ".join(f"{' and '.join(names)} taken {when}" for when, names in by_time.items())
    return show.capital(taken)


def _note(key: str, value: float | str, patient: Snapshot) -> str:
    one = _newest(key, value, patient)
    if one is None:
        return ""
    if one.taken_at is None:
        return "time not known"
    when, age = show.clock(one.taken_at, patient.now), show.about(one.age(patient.now))
    return f"at {when}, {age} ago"


def _newest(key: str, value: float | str, patient: Snapshot) -> Observation | None:
    """The patient's newest result of this name, if it is the figure."""
    many = patient.results.get(bare_and_unit(key)[0], ())
    return many[0] if many and many[0].value == value else None
