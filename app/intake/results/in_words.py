"""Results that stand among the conditions: "K+ 6.4", "pH 7.1"."""

import re
from collections.abc import Iterable
from typing import Final

from app.intake.results.figures import Doubt, Figure
from app.intake.results.in_unit import in_project_unit
from app.intake.results.names import Analyte, analyte_of
from app.intake.results.units import unit_of_result
from app.intake.vocabulary import Vocabulary, fold
from app.patient.observation import Observation

NAMES: Final = {
    "k": "potassium", "k+": "potassium", "potassium": "potassium", "na": "sodium",
    "na+": "sodium", "sodium": "sodium", "ph": "ph", "lactate": "lactate", "ck": "creatine_kinase",
    "creatinine": "creatinine", "creat": "creatinine", "cr": "creatinine", "inr": "inr",
    "bicarb": "bicarbonate", "hco3": "bicarbonate", "be": "base_excess", "ica": "calcium_ionised",
}  # fmt: skip
FIGURE: Final = re.compile(
    r"(?<![\w/])(k\+?|potassium|na\+?|sodium|ph|lactate|ck|creatinine|creat|cr|inr|bicarb|hco3-?|be"
    r"|ica)\s*(?:of|=|:|is|at|now)?\s*(-?\d{1,3}(?:,\d{3})+|-?\d+(?:\.\d+)?)"
    r"(?![\w.]*\d|\s?(?:-|->|to|/|→)\s?\d)\s*((?:mmol|meq|umol|micromol|mg)/d?l|u/l|iu/l)?"
    r"(?!\s*(?:mmol|meq|mg|g|ml|h|hr|tabs?|sachets?|days?|weeks?|x)\b)"
)
# Not what the patient has now: another day's figure, or one that is feared or aimed at.
NOT_NOW: Final = re.compile(
    r"\b(?:if|aim\w*|target\w*|keep|goal|until|baseline|usual\w*|normally|previous\w*|prev|was|were"
    r"|yesterday|last|admission|old|vit|vitamin|history|ago|urine|urinary|csf|nadir|peak|maximum"
    r"|from|max|range|ex|gastric|pleural|lowest|highest|initial\w*|initially|first)\b|[<>]"
)
STATEMENTS: Final = re.compile(r"[;\n]|,(?!\d{3}\b)|\.\s+")


def results_in_words(
    texts: Iterable[str], vocabulary: Vocabulary
) -> dict[str, tuple[Observation, ...]]:
    """Results told in the problem list, their time not known.

    A name with two figures, or with one of another day, tells none.
    """
    told: dict[str, set[tuple[float, str]]] = {}
    unsure: set[str] = set()
    for part in (part for text in texts for part in STATEMENTS.split(fold(text))):
        for match in FIGURE.finditer(part):
            name = NAMES[match[1].rstrip("-")]
            told.setdefault(name, set()).add((float(match[2].replace(",", "")), match[3] or ""))
            unsure |= {name} if NOT_NOW.search(part) else set()
    sure = {name: next(iter(figures)) for name, figures in told.items()
            if name not in unsure and len(figures) == 1}  # fmt: skip
    read = {name: _observation(name, *figure, vocabulary) for name, figure in sure.items()}
    return {name: (one,) for name, one in read.items() if one is not None}


def without_figures(text: str) -> str:
    """A folded text without the results in it, so that none of them is a condition not read."""
    return FIGURE.sub(" ", text)


def _observation(name: str, number: float, unit: str, vocabulary: Vocabulary) -> Observation | None:
    """The result, None where its figure is in doubt: it then stands in the words alone."""
    analyte = analyte_of(name, "", vocabulary)
    assert isinstance(analyte, Analyte)
    written = f"{number:g} {unit}".strip()
    try:
        value, said = in_project_unit(analyte, Figure(number, unit_of_result(unit)[0]))
    except Doubt:
        return None
    told = "; ".join(filter(None, ("told among the conditions, time not known", said)))
    return Observation(name, value, analyte.unit, None, written, converted=told)
