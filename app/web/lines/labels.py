"""Labels for lumens: six on a sheet, in the words of the plan."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from app.web.lines.view import LinesPage

# One for the bag's end and one for the patient's.
ENDS: Final = ("at the bag", "at the patient")
ON_A_SHEET: Final = 6


@dataclass(frozen=True, slots=True)
class Label:
    """One label: whose, which lumen, which end, and what runs when."""

    bed: str
    who: str
    lumen: str
    end: str
    runs: tuple[tuple[str, str], ...]
    made: str


@dataclass(frozen=True, slots=True)
class LabelsPage:
    """Sheets of labels."""

    patient_id: str
    bed: str
    sheets: tuple[tuple[Label, ...], ...]


def labels_page(page: LinesPage) -> LabelsPage:
    """Two labels for every lumen of a plan, six on each sheet."""
    every = tuple(_labels(page))
    starts = range(0, len(every), ON_A_SHEET)
    return LabelsPage(
        page.patient_id, page.bed, tuple(every[at : at + ON_A_SHEET] for at in starts)
    )


def _labels(page: LinesPage) -> Iterator[Label]:
    made = f"Plan of {page.made_at} to {page.until}"
    for lumen in dict.fromkeys(row.lumen for row in page.rows):
        runs = tuple((row.name, row.runs) for row in page.rows if row.lumen == lumen)
        for end in ENDS:
            yield Label(page.bed, page.who, lumen, end, runs, made)
