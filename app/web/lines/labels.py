"""Labels for lumens: six on a sheet, in the words of the plan."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from app.web.lines.view import LinesPage, RunView

# One for the bag's end and one for the patient's.
ENDS: Final = ("at the bag", "at the patient")
ON_A_SHEET: Final = 6
# More than this stand on a label in smaller letters.
ROOMY: Final = 5


@dataclass(frozen=True, slots=True)
class Label:
    """One label: whose, which lumen, which end, and what runs when.

    where: site and size; heed: what must not be done by this lumen; many: small letters are needed.
    """

    bed: str
    who: str
    lumen: str
    where: str
    end: str
    heed: str
    runs: tuple[RunView, ...]
    made: str
    many: bool


@dataclass(frozen=True, slots=True)
class LabelsPage:
    """Sheets of labels."""

    patient_id: str
    bed: str
    sheets: tuple[tuple[Label, ...], ...]


def labels_page(page: LinesPage) -> LabelsPage:
    """Two labels for every lumen of a plan on which something runs, six on each sheet."""
    every = tuple(_labels(page))
    starts = range(0, len(every), ON_A_SHEET)
    return LabelsPage(
        page.patient_id, page.bed, tuple(every[at : at + ON_A_SHEET] for at in starts)
    )


def _labels(page: LinesPage) -> Iterator[Label]:
    made = f"Plan of {page.day}, {page.made_at} to {page.until}"
    where = {lumen.name: lumen.where for lumen in page.lumens}
    for lumen in dict.fromkeys(row.lumen for row in page.rows):
        runs = tuple(row for row in page.rows if row.lumen == lumen)
        surging = [row.name for row in runs if row.surges]
        heed = f"{surging[0]}: no bolus, no flush, no dose by this lumen." if surging else ""
        for end in ENDS:
            yield Label(
                page.bed, page.who, lumen, where.get(lumen, "peripheral, new"), end, heed, runs,
                made, len(runs) > ROOMY,
            )  # fmt: skip
