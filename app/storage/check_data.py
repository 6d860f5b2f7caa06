"""Check every seed file: what would be refused, and what no reader could understand."""

from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path
from typing import Final, TypeVar

from app.catalogue.catalogue import Catalogue
from app.catalogue.check import check_fluid
from app.catalogue.entry import EntryError
from app.cautions.example import EXAMPLE_NOW, Example, examples_of
from app.cautions.registry import RULE_BY_ID
from app.chemistry.errors import UnitError
from app.intake.errors import InputError, InputErrors
from app.intake.read import read_case
from app.intake.vocabulary import Vocabulary
from app.storage.demo_files import (
    Words,
    doubts_of,
    read_bed_file,
    read_case_of,
    read_stock_file,
    read_unit_file,
)
from app.storage.seed_files import (
    SEED_DATA,
    SeedFault,
    read_fluids,
    read_pair_facts,
    read_plasma,
    read_toml,
    read_vehicles,
    read_vocabulary,
)
from app.storage.shortage.seeding import read_counts_file

T = TypeVar("T")
FAULTS: Final = (
    EntryError, InputError, InputErrors, UnitError, ValueError, KeyError, TypeError,
)  # fmt: skip


def faults_of_seed_data(folder: Path = SEED_DATA) -> tuple[SeedFault, ...]:
    """Everything wrong with the seed data, file by file; nothing when all of it can be used."""
    faults: list[SeedFault] = []
    catalogue, fluid_faults = read_fluids(folder / "fluids")
    faults.extend(fluid_faults)
    faults.extend(
        SeedFault(f"{fault.fluid_id}.toml", f"{fault.field}: {fault.text}")
        for fluid in catalogue
        for fault in check_fluid(fluid)
    )
    _tried(faults, "plasma.toml", lambda: read_plasma(folder / "plasma.toml"))
    _tried(faults, "co_infusion", lambda: read_pair_facts(folder / "co_infusion"))
    vocabulary = _tried(faults, "vocabulary", lambda: read_vocabulary(folder / "vocabulary"))
    if vocabulary is not None:
        faults.extend(_vehicle_faults(folder / "vehicles", catalogue, vocabulary))
        faults.extend(_example_faults(folder / "rule_examples", catalogue, vocabulary))
        faults.extend(_demo_faults(folder / "demo", catalogue, vocabulary))
    return tuple(faults)


def _tried(faults: list[SeedFault], file: str, read: Callable[[], T]) -> T | None:
    """What was read, or None with the fault noted."""
    try:
        return read()
    except KeyError as missing:
        faults.append(SeedFault(file, f"{missing.args[0]}: missing; accepted: a value"))
    except FAULTS as fault:
        faults.append(SeedFault(file, str(fault)))
    return None


def _vehicle_faults(
    folder: Path, catalogue: Catalogue, vocabulary: Vocabulary
) -> Iterator[SeedFault]:
    faults: list[SeedFault] = []
    vehicles = _tried(faults, "vehicles", lambda: read_vehicles(catalogue, folder))
    yield from faults
    drugs = vocabulary.tables["drugs"]["drug"]
    for vehicle in vehicles or ():
        if vehicle.key not in drugs:
            text = f"{vehicle.key!r} is not accepted; accepted: a drug of the vocabulary"
            yield SeedFault("vehicles", text)


def _example_faults(
    folder: Path, catalogue: Catalogue, vocabulary: Vocabulary
) -> Iterator[SeedFault]:
    for path in sorted(folder.glob("*.toml")):
        faults: list[SeedFault] = []
        for example in _tried(faults, path.name, partial(_examples, path)) or ():
            _check_example(faults, path.name, example, catalogue, vocabulary)
        yield from faults


def _examples(path: Path) -> tuple[Example, ...]:
    return examples_of(read_toml(path))


def _check_example(
    faults: list[SeedFault],
    file: str,
    example: Example,
    catalogue: Catalogue,
    vocabulary: Vocabulary,
) -> None:
    if example.rule not in RULE_BY_ID:
        text = f"rule: {example.rule!r} is not accepted; accepted: the id of a rule"
        faults.append(SeedFault(file, text))
    _tried(
        faults,
        f"{file}, “{example.title}”",
        lambda: read_case(
            example.request, catalogue=catalogue, vocabulary=vocabulary, now=EXAMPLE_NOW
        ),
    )


def _demo_faults(folder: Path, catalogue: Catalogue, vocabulary: Vocabulary) -> Iterator[SeedFault]:
    faults: list[SeedFault] = []
    unit = _tried(faults, "unit.toml", lambda: read_unit_file(folder / "unit.toml"))
    _tried(faults, "stock.toml", lambda: read_stock_file(folder / "stock.toml", catalogue))
    _tried(faults, "counts.toml", lambda: read_counts_file(folder / "counts.toml", catalogue))
    yield from faults
    if unit is None or unit.fixed_now is None:
        return
    words = Words(catalogue, vocabulary, unit.fixed_now)
    for path in sorted((folder / "patients").glob("*.toml")):
        yield from _bed_faults(path, words)


def _bed_faults(path: Path, words: Words) -> Iterator[SeedFault]:
    faults: list[SeedFault] = []
    file = _tried(faults, path.name, lambda: read_bed_file(path))
    case = (
        None if file is None else _tried(faults, path.name, lambda: read_case_of(file.bed, words))
    )
    yield from faults
    if file is None or case is None:
        return
    doubts = doubts_of(case)
    for doubt in sorted(set(doubts) - set(file.asked)):
        text = f"{doubt!r} is doubtful; accepted: {doubts[doubt]}"
        yield SeedFault(path.name, text)
    for doubt in sorted(set(file.asked) - set(doubts)):
        text = f"asked: {doubt!r} leaves no doubt; accepted: what does"
        yield SeedFault(path.name, text)
