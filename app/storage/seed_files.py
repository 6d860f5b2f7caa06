"""Read seed_data/ into catalogue objects, told file by file and field by field."""

import tomllib
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import Any, Final

from app.catalogue.catalogue import Catalogue
from app.catalogue.entry import EntryError, fluid_from
from app.catalogue.fluid import Fluid
from app.catalogue.pairs.facts import PairFacts
from app.catalogue.pairs.reading import pair_facts_from
from app.catalogue.plasma import Plasma, plasma_from
from app.catalogue.vehicles.reading import vehicles_from
from app.catalogue.vehicles.vehicle import Vehicle, Vehicles
from app.intake.vocabulary import Vocabulary

SEED_DATA: Final = Path(__file__).resolve().parents[2] / "seed_data"
# Lines are flushed with this (common practice, no source).
FLUSH: Final = "sodium-chloride-0.9"


@dataclass(frozen=True, slots=True)
class SeedFault:
    """One thing wrong with one seed file, as a person should read it."""

    file: str
    text: str

    def __str__(self) -> str:
        return f"{self.file}: {self.text}"


def read_toml(path: Path) -> dict[str, Any]:
    """One TOML file; a syntax error is raised as ValueError naming the file and the place."""
    try:
        return tomllib.loads(path.read_text(encoding="utf-8"))
    except tomllib.TOMLDecodeError as error:
        raise ValueError(f"{path.name}: not readable as TOML: {error}") from error


def read_fluids(folder: Path = SEED_DATA / "fluids") -> tuple[Catalogue, tuple[SeedFault, ...]]:
    """Every fluid file of a folder in name order; faulty files are left out and told."""
    fluids: list[Fluid] = []
    faults: list[SeedFault] = []
    for path in sorted(folder.glob("*.toml"), key=lambda path: path.stem):
        try:
            fluids.append(fluid_from(read_toml(path), file_id=path.stem))
        except (EntryError, ValueError) as error:
            faults.append(SeedFault(path.name, str(error)))
    return Catalogue(tuple(fluids)), tuple(faults)


def read_plasma(path: Path = SEED_DATA / "plasma.toml") -> Plasma:
    """The reference column. Raises ValueError or UnitError naming what is wrong."""
    return plasma_from(read_toml(path))


def read_pair_facts(folder: Path = SEED_DATA / "co_infusion") -> PairFacts:
    """What is known of two things in one lumen. Raises ValueError naming the pair and its fault."""
    return pair_facts_from(read_toml(path) for path in sorted(folder.glob("*.toml")))


def read_vocabulary(folder: Path = SEED_DATA / "vocabulary") -> Vocabulary:
    """Every word list. Raises ValueError naming the file that is not readable as TOML."""
    return Vocabulary.of({path.stem: read_toml(path) for path in sorted(folder.glob("*.toml"))})


def read_vehicles(catalogue: Catalogue, folder: Path = SEED_DATA / "vehicles") -> Vehicles:
    """What drugs and blood usually come in. Raises EntryError naming file, entry and field."""
    vehicles: dict[str, Vehicle] = {}
    for path in sorted(folder.glob("*.toml")):
        try:
            read = vehicles_from(read_toml(path), catalogue)
        except EntryError as error:
            raise EntryError(f"{path.name}: {error.field}", error.value, error.accepted) from error
        for vehicle in read:
            if vehicle.key in vehicles:
                raise EntryError(f"{path.name}: {vehicle.key}", "told twice", "one entry a drug")
            vehicles[vehicle.key] = vehicle
    return Vehicles(MappingProxyType(vehicles), catalogue.get(FLUSH))
