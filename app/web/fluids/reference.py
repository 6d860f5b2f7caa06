"""The reference column of every picture and comparison."""

from functools import cache

from app.catalogue.plasma import Plasma, plasma_from
from app.storage.seed_files import SEED_DATA, read_toml


@cache
def adult_plasma() -> Plasma:
    """Adult plasma as seed_data/ has it."""
    return plasma_from(read_toml(SEED_DATA / "plasma.toml"))
