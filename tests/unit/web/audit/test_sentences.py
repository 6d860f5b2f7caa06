"""An act is a sentence that can be read aloud."""

from datetime import UTC, datetime

import pytest

from app.catalogue.catalogue import Catalogue
from app.storage.audit.chain import Link
from app.web.audit.sentences import DID, act_row

AT = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)
LIMIT = "limit:k-hyper/potassium_high_mmol_l"


def act(act: str, subject: str, before: str | None = None, after: str | None = None) -> Link:
    return Link(7, AT, "L. Novák", "l.novak", act, subject, before, after, "")


@pytest.mark.parametrize(
    ("link", "sentence"),
    [
        (
            act("approve-change", LIMIT, '{"value":5.5}', '{"value":5.7}'),
            "L. Novák approved limit k-hyper/potassium_high_mmol_l: 5.5 to 5.7 mmol/L.",
        ),
        (
            act("draft-change", "change:12", '{"value":5.5}', f'{{"subject":"{LIMIT}","value":6}}'),
            "L. Novák drafted change 12 of limit k-hyper/potassium_high_mmol_l: 5.5 to 6 mmol/L.",
        ),
        (
            act("approve-change", "rule:k-hyper", '{"on":true}', '{"on":false}'),
            "L. Novák approved rule k-hyper: off.",
        ),
        (
            act("told stock", "stock:sodium-chloride-0.9", '{"state":"short"}', '{"state":"out"}'),
            "L. Novák told of the stock of 0.9% sodium chloride: short to out.",
        ),
        (
            act("told stock", "stock:sodium-chloride-0.9", None, '{"state":"out"}'),
            "L. Novák told of the stock of 0.9% sodium chloride: out.",
        ),
        (
            act("sealed trail anew", "trail", '{"rows":3}', '{"reason":"secret set today"}'),
            "L. Novák sealed the trail of acts anew: secret set today.",
        ),
        (
            act("account opened again", "account:k.osei"),
            "L. Novák opened the account k.osei again.",
        ),
        (
            act("load-release", "release:0.1.0", None, '{"loaded":83,"unchanged":1}'),
            "L. Novák brought its files: 83 loaded, 1 unchanged.",
        ),
        (
            act("something new", "thing:1"),
            "L. Novák did “something new” to thing:1.",
        ),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_an_act_is_told_in_one_sentence(catalogue: Catalogue, link: Link, sentence: str) -> None:
    assert act_row(link, catalogue, "then").sentence == sentence


def test_a_limit_without_a_value_of_its_own_is_as_shipped(catalogue: Catalogue) -> None:
    row = act_row(act("approve-change", LIMIT, '{"value":null}', '{"value":5.7}'), catalogue, "")
    assert row.changed.startswith("as shipped ")
    assert row.changed.endswith(" to 5.7 mmol/L")


def test_a_fluid_is_told_by_its_fields(catalogue: Catalogue) -> None:
    row = act_row(
        act(
            "approve-change",
            "fluid:sodium-chloride-0.9",
            '{"document":{"composition_mmol_l":{"sodium":154},"name":"x"}}',
            '{"document":{"composition_mmol_l":{"sodium":150},"name":"x"}}',
        ),
        catalogue,
        "then",
    )
    assert [(f.name, f.before, f.after) for f in row.fields] == [("sodium, mmol/L", "154", "150")]
    assert row.counted == "1 field"


def test_what_nobody_did_is_the_programs(catalogue: Catalogue) -> None:
    link = Link(1, AT, "", "", "load-release", "fluid:x", None, None, "")
    assert act_row(link, catalogue, "").sentence == "The program brought x."


def test_every_act_names_what_it_is_about_once() -> None:
    assert all(said.count("{}") == 1 for said in DID.values())
