"""Receipts as files: a folder of them, or one file with one receipt or a list."""

import json
import math
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from app.intake.errors import InputError

ACCEPTED: Final = "a receipt as JSON, a list of them, or a reply with receipts"
SHOWN: Final = 60


@dataclass(frozen=True, slots=True)
class ReceiptFiles:
    """What was read: JSON values with the name each is told by, and what could not be read.

    whole: a folder or a list, which should hold every receipt of its reviews.
    """

    documents: tuple[tuple[str, Any], ...]
    not_read: tuple[str, ...]
    whole: bool


def read_receipt_files(path: Path) -> ReceiptFiles:
    """Every receipt at a path; files of a folder in the order of their names.

    Raises InputError when there is nothing to read.
    """
    files = sorted(path.glob("*.json")) if path.is_dir() else [path]
    if not files:
        raise InputError("FILE", str(path), f"a folder with {ACCEPTED}")
    documents: list[tuple[str, Any]] = []
    not_read: list[str] = []
    for file in files:
        try:
            documents += _documents(file)
        except InputError as fault:
            not_read.append(f"{file.name}: {fault}")
    return ReceiptFiles(tuple(documents), tuple(not_read), path.is_dir() or len(documents) > 1)


def write_receipt_files(folder: Path, texts: Mapping[str, str]) -> None:
    """Write files by name, making the folder. Raises InputError where that cannot be done."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, text in texts.items():
            (folder / name).write_text(text, encoding="utf-8")
    except OSError as error:
        accepted = f"a folder that can be written to ({error.strerror})"
        raise InputError("FOLDER", str(folder), accepted) from error


def _documents(file: Path) -> list[tuple[str, Any]]:
    read = _json(file)
    listed = read.get("receipts", read) if isinstance(read, dict) else read
    if not isinstance(listed, list):
        return [(file.name, listed)]
    return [(f"{file.name}[{place}]", document) for place, document in enumerate(listed)]


def _json(file: Path) -> Any:  # noqa: ANN401 - any JSON value
    try:
        text = file.read_text(encoding="utf-8-sig")
        return json.loads(
            text, object_pairs_hook=_each_once, parse_constant=_finite, parse_float=_finite
        )
    except OSError as error:
        accepted = f"a file that can be read ({error.strerror})"
        raise InputError("FILE", str(file), accepted) from error
    except (ValueError, RecursionError) as error:
        raise InputError("FILE", file.name, f"{ACCEPTED} ({str(error)[:SHOWN]})") from error


def _each_once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """An object whose names are each given once: a reader and a program must see the same."""
    read = dict(pairs)
    if len(read) != len(pairs):
        raise ValueError("a name is given twice in one object")
    return read


def _finite(text: str) -> float:
    number = float(text)
    if not math.isfinite(number):
        raise ValueError(f"{text} is no JSON number")
    return number
