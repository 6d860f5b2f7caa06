"""Fixtures everyone knows."""

from datetime import UTC, datetime

import pytest
from hypothesis import settings

from app.catalogue.catalogue import Catalogue
from app.catalogue.vehicles.vehicle import Vehicles
from app.intake.vocabulary import Vocabulary
from app.storage.seed_files import read_fluids, read_vehicles, read_vocabulary
from tests.watch import (
    every_write_is_an_act,
    no_patient_in_logs,
    pages_are_known,
    pytest_runtest_makereport,
)

__all__ = [  # taken from elsewhere: pytest finds hooks and fixtures in this file alone
    "every_write_is_an_act", "no_patient_in_logs", "pages_are_known", "pytest_runtest_makereport",
]  # fmt: skip

# No test judges by the clock: a busy machine is no fault.
settings.register_profile("house", deadline=None)
settings.load_profile("house")

NOW = datetime(2031, 3, 4, 7, 0, tzinfo=UTC)
# Content counts by the real clock, so what a test loads was loaded before anybody ran it.
LOADED = datetime(2026, 1, 1, tzinfo=UTC)


@pytest.fixture(scope="session")
def now() -> datetime:
    """The moment every example is looked at."""
    return NOW


@pytest.fixture(scope="session")
def catalogue() -> Catalogue:
    """The whole catalogue, as seed_data/ has it."""
    read, faults = read_fluids()
    assert not faults, "\n".join(map(str, faults))
    return read


@pytest.fixture(scope="session")
def vocabulary() -> Vocabulary:
    """Every word list, as seed_data/ has it."""
    return read_vocabulary()


@pytest.fixture(scope="session")
def vehicles(catalogue: Catalogue) -> Vehicles:
    """What drugs and blood usually come in, as seed_data/ has it."""
    return read_vehicles(catalogue)
