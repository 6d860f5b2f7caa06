"""Read the published groups that the prediction is held against."""

import csv
from pathlib import Path
from typing import Any

from app.storage.seed_files import SEED_DATA, read_toml

TRIALS = SEED_DATA / "trials"
SETS = {"open": False, "ours": True}


def read_trial_rows(folder: Path = TRIALS) -> list[tuple[dict[str, str], bool]]:
    """Every line of open.csv and ours.csv as texts, and whether it is held out."""
    rows: list[tuple[dict[str, str], bool]] = []
    for name, held_out in SETS.items():
        with (folder / f"{name}.csv").open(encoding="utf-8", newline="") as file:
            rows.extend((row, held_out) for row in csv.DictReader(file))
    return rows


def read_trial_fluids(folder: Path = TRIALS) -> dict[str, Any]:
    """The table of the trials' fluids."""
    return read_toml(folder / "fluids.toml")
