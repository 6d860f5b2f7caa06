"""One row, one text, one hash; and a seal that only the secret makes."""

import hashlib
import json
from dataclasses import replace
from datetime import UTC, datetime

import pytest

from app.canonical import canonical
from app.storage.audit.chain import Head, Link, document_text, hash_of, key_of, seal_of, seal_stands

LINK = Link(
    seq=12,
    at=datetime(2031, 3, 4, 7, 5, 0, 250, tzinfo=UTC),
    who='Zoë "Z" O’Neil\n\x01',
    account_id="z.oneil",
    act="told stock",
    subject="stock:sodium-chloride-0.9",
    before=None,
    after='{"note":"ünïcode","rate":60}',
    previous="ab" * 32,
)
HEAD = Head(2, "cd" * 32, 2, seal_of(2, "cd" * 32, key_of("a long secret")))


def test_the_hash_is_that_of_the_row_as_canonical_json() -> None:
    document = {
        "seq": 12,
        "at": "2031-03-04T07:05:00.000250+00:00",
        "who": LINK.who,
        "account_id": "z.oneil",
        "act": "told stock",
        "subject": LINK.subject,
        "before": None,
        "after": json.loads(LINK.after or ""),
        "previous": LINK.previous,
    }
    assert hash_of(LINK) == hashlib.sha256(canonical(document).encode()).hexdigest()


@pytest.mark.parametrize(
    "change",
    [
        {"seq": 13},
        {"at": datetime(2031, 3, 4, 7, 5, 0, 251, tzinfo=UTC)},
        {"who": "Zoe"},
        {"account_id": "z.oneill"},
        {"act": "told stocks"},
        {"subject": "stock:sodium-chloride-0.45"},
        {"before": "{}"},
        {"after": '{"note":"ünïcode","rate":61}'},
        {"after": '{"note":"ünïcode","rate": 60}'},
        {"after": None},
        {"previous": "ab" * 31 + "ac"},
    ],
    ids=str,
)
def test_any_change_gives_another_hash(change: dict[str, object]) -> None:
    assert hash_of(replace(LINK, **change)) != hash_of(LINK)  # type: ignore[arg-type]


def test_a_document_is_kept_in_one_text_whatever_order_it_came_in() -> None:
    assert document_text({"b": 60.0, "a": datetime(2031, 3, 4, tzinfo=UTC)}) == (
        '{"a":"2031-03-04T00:00:00+00:00","b":60}'
    )
    assert document_text(None) is None


def test_the_seal_stands_only_for_just_these_rows_and_this_secret() -> None:
    key = key_of("a long secret")
    assert seal_stands(HEAD, key)
    assert not seal_stands(HEAD, key_of("another secret"))
    assert not seal_stands(replace(HEAD, last="ce" * 32), key)
    assert not seal_stands(replace(HEAD, count=3), key)
    assert not seal_stands(replace(HEAD, count=1, sealed=1), key)
    assert not seal_stands(replace(HEAD, seal=""), key)
    assert seal_stands(Head(0, "", 0, ""), key)


def test_no_secret_makes_no_key() -> None:
    assert key_of("") == b""
    assert len(key_of("a long secret")) == 32
