"""`ringside check-data`."""

import argparse

from app.cli.parts import FAULTY, Commands
from app.review.hazards.shipped import faults_of_hazards
from app.storage.check_data import faults_of_seed_data


def add(commands: Commands) -> None:
    """The command's options."""
    check = commands.add_parser("check-data", help="check every file of seed_data/")
    check.set_defaults(command=_check_data)


def _check_data(_asked: argparse.Namespace) -> int:
    faults = (*faults_of_seed_data(), *faults_of_hazards())
    for fault in faults:
        print(fault)
    print(f"{len(faults)} faults in seed_data/" if faults else "seed_data/ is sound")
    return FAULTY if faults else 0
