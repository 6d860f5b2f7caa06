"""A file of orders as requests: the JSON of the outside interface, or a CSV."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, tzinfo
from pathlib import Path
from typing import Any, Final

import orjson

from app.intake.csv_orders import CsvOrders, read_orders_csv
from app.intake.errors import InputError

SHOWN: Final = 60
ACCEPTED: Final = "JSON as for POST /api/review, or a CSV of orders"
ONE_REQUEST: Final = "JSON as for POST /api/predict or POST /api/line-plan"

Request = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class OrderFile:
    """What a file holds.

    requests: by patient number; under "" when the file names none. not_read: rows that could not
    be read, in words. left_out: what was not meant to be reviewed, in words.
    """

    requests: Mapping[str, Request]
    not_read: tuple[str, ...] = ()
    left_out: tuple[str, ...] = ()


def read_order_file(path: Path, *, zone: tzinfo = UTC) -> OrderFile:
    """The requests in a file; zone: that of a CSV's times.

    Raises InputError with the field, what was met and what is accepted.
    """
    text = _text_of(path)
    if text.lstrip().startswith(("{", "[")) or path.suffix.lower() == ".json":
        return OrderFile({"": _json_request(text)})
    return _of_csv(read_orders_csv(text, zone=zone))


def read_request_file(path: Path) -> Request:
    """The one request in a file of JSON. Raises InputError as read_order_file does."""
    return _json_request(_text_of(path, ONE_REQUEST))


def _text_of(path: Path, accepted: str = ACCEPTED) -> str:
    try:
        return path.read_text(encoding="utf-8-sig")
    except OSError as error:
        raise InputError(
            "FILE", str(path), f"a file that can be read ({error.strerror})"
        ) from error
    except UnicodeDecodeError as error:
        raise InputError("FILE", str(path), f"{accepted}, as UTF-8 text") from error


def _json_request(text: str) -> Request:
    try:
        read = orjson.loads(text)
    except orjson.JSONDecodeError as error:
        raise InputError("FILE", text[:SHOWN], f"a JSON object ({error})") from error
    if not isinstance(read, dict):
        raise InputError("FILE", type(read).__name__, "a JSON object")
    if "resourceType" in read:
        accepted = f"{ACCEPTED}; reading FHIR resources and Bundles is not in this release"
        raise InputError("resourceType", read["resourceType"], accepted)
    return read


def _of_csv(orders: CsvOrders) -> OrderFile:
    columns = tuple(
        f"Column {name!r} is not known and was not used" for name in orders.ignored_columns
    )
    return OrderFile(
        orders.requests,
        not_read=tuple(map(str, orders.problems)),
        left_out=(*map(str, orders.left_out), *columns),
    )
