"""A receipt can be checked elsewhere: a hundred of them recomputed by a script apart."""

import json
import subprocess
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest

from app.intake.errors import InputError
from app.review.knowledge import Knowledge
from app.review.receipts.reading import kept
from app.review.receipts.receipt import Receipt, file_name, receipts_of, text_of
from app.review.receipts.versions import versions_of
from app.review.workflow import review_request
from app.storage.demo_files import DEMO, read_bed_file, read_unit_file
from app.storage.receipt_files import read_receipt_files, write_receipt_files
from app.web.rules import all_examples
from tests.contract import recompute_apart
from tests.contract.recompute_apart import faults_of_chain

ROOT = Path(__file__).resolve().parents[2]
ENOUGH = 100
EVERY_NTH_EXAMPLE = 12


@pytest.fixture(scope="module")
def knowledge() -> Knowledge:
    """Everything known, with limits as shipped."""
    return Knowledge.from_seed()


def requests() -> Iterator[tuple[Mapping[str, Any], dict[str, str]]]:
    """Every bed of the demo unit, and worked examples of every family of rules."""
    for path in sorted((DEMO / "patients").glob("*.toml")):
        bed = read_bed_file(path).bed
        yield bed.request, {"bed": bed.bed, "initials": bed.initials}
    yield from ((example.request, {}) for example in all_examples()[::EVERY_NTH_EXAMPLE])


@pytest.fixture(scope="module")
def chains(knowledge: Knowledge) -> list[tuple[Receipt, ...]]:
    """The receipts of each review."""
    now, versions = read_unit_file().fixed_now, versions_of(knowledge)
    return [
        receipts_of(request, review_request(request, knowledge, now=now), versions, about)
        for request, about in requests()
    ]


@pytest.fixture
def folder(chains: list[tuple[Receipt, ...]], tmp_path: Path) -> Path:
    """All of them as files."""
    texts = {file_name(receipt): text_of(receipt) for chain in chains for receipt in chain}
    write_receipt_files(tmp_path, texts)
    return tmp_path


def test_a_hundred_receipts_are_recomputed_apart_to_the_digit(folder: Path) -> None:
    assert len(list(folder.iterdir())) >= ENOUGH
    # Another process: what hangs on the order of a set would come out otherwise.
    done = subprocess.run(
        [sys.executable, "-m", recompute_apart.__name__, str(folder)],
        cwd=ROOT, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stdout + done.stderr
    assert done.stdout == f"{len(list(folder.iterdir()))} receipts equal to the digit\n"


def test_the_script_apart_knows_nothing_of_the_receipts_own_code() -> None:
    code = Path(recompute_apart.__file__).read_text(encoding="utf-8")
    assert "receipts.receipt" not in code
    assert "app.review.receipts" not in code


def test_an_edit_of_any_byte_is_found(folder: Path) -> None:
    path = min(folder.iterdir(), key=lambda p: p.stat().st_size)
    original = path.read_bytes()
    document = json.loads(original)
    unseen = []
    for place in range(len(original)):
        edited = bytearray(original)
        edited[place] ^= 1
        path.write_bytes(edited)
        read = read_receipt_files(path)
        # What cannot be read is told, and a blank between two parts is no content.
        if not read.not_read and not is_found(read.documents[0][1], document):
            unseen.append((place, original[place - 20 : place + 20]))
    assert not unseen


def is_found(edited: object, document: object) -> bool:
    if edited == document:
        return True
    try:
        return kept(edited, "edited").is_edited
    except InputError:
        return True


def longest(chains: list[tuple[Receipt, ...]]) -> list[Receipt]:
    """A review with several findings."""
    chain = list(max(chains, key=len))
    assert len(chain) > 2
    assert not list(faults_of_chain(chain))
    return chain


def test_a_receipt_removed_from_its_chain_is_found(chains: list[tuple[Receipt, ...]]) -> None:
    whole = longest(chains)
    for place in range(len(whole)):
        assert list(faults_of_chain([*whole[:place], *whole[place + 1 :]]))


def test_two_receipts_swapped_in_their_chain_are_found(chains: list[tuple[Receipt, ...]]) -> None:
    whole = longest(chains)
    for place in range(len(whole) - 1):
        swapped = [*whole]
        swapped[place], swapped[place + 1] = swapped[place + 1], swapped[place]
        assert list(faults_of_chain(swapped))
