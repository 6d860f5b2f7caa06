"""The trail is read by who may, found by who, what and when, and taken away as an act itself."""

import csv
import io
import json
import re
from collections.abc import Callable
from datetime import UTC, datetime

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient
from sqlalchemy import text

from app.security.acts import Role
from app.storage.audit.chain import Link
from app.storage.audit.reading import Wanted, read_acts
from app.storage.audit.trail import record
from app.storage.database import reading, transaction
from app.web.audit.page import ROWS
from tests.people import Clients

AT = datetime(2026, 3, 4, 7, 5, tzinfo=UTC)
LIMIT = "limit:k-hyper/potassium_high_mmol_l"
Reader = Callable[..., TestClient]


@pytest.fixture
def reader(own_app: FastAPI, clients: Clients) -> Reader:
    """reader(role, …): a browser of such a person over a trail that this test alone changes."""
    for act, subject, before, after in (
        ("approve-change", LIMIT, {"value": 5.5}, {"value": 5.7}),
        ("account added", "account:k.osei", None, {"roles": ["nurse"]}),
        ("told lumen", "lumen:bed-07/left-hand", None, {"state": "failed"}),
    ):
        with transaction(own_app.state.engine) as session:
            record(
                session, at=AT, who="Lea Novák", account_id="l.novak", act=act, subject=subject,
                before=before, after=after,
            )  # fmt: skip
    return lambda *roles: clients(own_app, *roles)


def newest(app: FastAPI) -> Link:
    with reading(app.state.engine) as session:
        return read_acts(session, Wanted(), 1)[0]


def test_an_act_is_a_sentence_with_what_changed(reader: Reader) -> None:
    page = reader(Role.PHARMACIST).get("/audit").text
    plain = re.sub(r"\s+", " ", re.sub(r"<[^>]+>", "", page))
    assert "Lea Novák approved limit k-hyper/potassium_high_mmol_l: 5.5 to 5.7 mmol/L." in plain
    assert 'href="/rules/k-hyper"' in page
    assert "The chain is whole" in page


def test_the_page_says_that_it_measures_nobody(reader: Reader) -> None:
    page = reader(Role.PHARMACIST).get("/audit").text
    assert "no measure of anybody’s work" in page


def test_a_pharmacist_reads_of_content_alone(reader: Reader) -> None:
    page = reader(Role.PHARMACIST).get("/audit").text
    assert "approved" in page
    assert "k.osei" not in page
    assert "account added" not in page
    assert "bed-07" not in page


def test_an_administrator_reads_of_all_and_of_no_patient(reader: Reader) -> None:
    page = reader(Role.ADMINISTRATOR).get("/audit").text
    assert "the account k.osei" in page
    assert "a lumen" in page
    assert "bed-07" not in page


@pytest.mark.parametrize("role", [Role.NURSE, Role.PRESCRIBER, Role.EDUCATOR])
def test_nobody_else_reads_or_takes_it(reader: Reader, role: Role) -> None:
    assert reader(role).get("/audit").status_code == 403
    assert reader(role).post("/audit/export", data={"as": "csv"}).status_code == 403


def test_filters_stand_in_the_address_and_in_their_fields(reader: Reader) -> None:
    asked = "/audit?who=novak&act=approve-change&subject=limit:k-hyper&since=2026-03-04"
    page = reader(Role.PHARMACIST).get(asked.replace("novak", "l.novak")).text
    assert "<b>1 act</b> with what you asked for" in page
    assert 'value="limit:k-hyper"' in page
    assert 'value="2026-03-04"' in page
    assert '<option value="approve-change" selected>approved …</option>' in page


def test_a_day_that_is_none_is_said_and_the_rest_still_works(reader: Reader) -> None:
    page = reader(Role.PHARMACIST).get("/audit?since=soon&act=approve-change").text
    assert "“soon” is not accepted and not used" in page
    assert "<b>1 act</b>" in page


def test_what_nobody_did_is_said(reader: Reader) -> None:
    assert "No act has all of this." in reader(Role.PHARMACIST).get("/audit?who=nobody").text


def test_what_is_typed_is_never_markup(reader: Reader) -> None:
    page = reader(Role.PHARMACIST).get('/audit?who="><script>x</script>&act=<b>').text
    assert "<script>x" not in page
    assert "<option selected><b>" not in page


def test_acts_are_paged_newest_first_and_each_is_shown_once(reader: Reader) -> None:
    client = reader(Role.PHARMACIST)
    seen: list[int] = []
    address = "/audit"
    while address:
        page = client.get(address).text
        seen += map(int, re.findall(r'<li class="acts-row" value="(\d+)"', page))
        older = re.search(r'<a href="([^"]+)" rel="next">', page)
        address = older[1].replace("&amp;", "&") if older else ""
    assert seen == sorted(set(seen), reverse=True)
    total = re.search(r"<b>(\d+) acts</b>", page)
    assert total is not None
    assert len(seen) == int(total[1]) > ROWS


def test_very_many_acts_are_not_counted_to_the_end(
    reader: Reader, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("app.web.audit.page.MOST_COUNTED", 1_000)
    assert "More than" not in reader(Role.PHARMACIST).get("/audit").text
    monkeypatch.setattr("app.web.audit.page.MOST_COUNTED", 5)
    assert "<b>More than 5 acts</b>" in reader(Role.PHARMACIST).get("/audit").text


def test_the_part_equals_its_piece_of_the_page(reader: Reader) -> None:
    client = reader(Role.PHARMACIST)
    part = client.get("/audit?act=approve-change", headers={"HX-Request": "true"}).text
    assert part.strip() in client.get("/audit?act=approve-change").text
    assert part.lstrip().startswith('<div id="acts">')


def test_a_broken_chain_is_said_loudly_with_its_row(reader: Reader, own_app: FastAPI) -> None:
    with transaction(own_app.state.engine) as session:
        session.execute(text("DROP TRIGGER trail_row_is_not_changed"))
        session.execute(text("UPDATE trail_row SET after = '{oops' WHERE seq = 2"))
    page = reader(Role.PHARMACIST).get("/audit").text
    assert "The chain is not whole" in page
    assert "row 2 is not what its hash was made from" in page
    assert "do not repair it" in page
    assert reader(Role.PHARMACIST).get("/audit?check=anew").status_code == 200


def test_a_file_holds_what_was_found_and_taking_it_is_an_act(
    reader: Reader, own_app: FastAPI
) -> None:
    before = newest(own_app).seq
    answer = reader(Role.PHARMACIST).post(
        "/audit/export", data={"as": "csv", "act": "approve-change"}
    )
    assert answer.headers["content-disposition"] == 'attachment; filename="acts.csv"'
    assert answer.headers["cache-control"] == "no-store"
    (row,) = csv.DictReader(io.StringIO(answer.text, newline=""))
    assert (row["act"], row["who"]) == ("approve-change", "Lea Novák")
    act = newest(own_app)
    assert (act.seq, act.act, act.subject) == (before + 1, "exported trail", "trail")
    assert json.loads(act.after or "") == {
        "file": "csv", "rows up to": before, "act": "approve-change",
    }  # fmt: skip


def test_a_file_of_a_pharmacist_holds_no_act_on_people(reader: Reader) -> None:
    taken = {"as": "jsonl"}
    lines = reader(Role.PHARMACIST).post("/audit/export", data=taken).text.splitlines()
    acts = {json.loads(line)["act"] for line in lines}
    assert "approve-change" in acts
    assert not acts & {"account added", "told lumen"}
    all_lines = reader(Role.ADMINISTRATOR).post("/audit/export", data=taken).text.splitlines()
    assert {"account added", "told lumen"} <= {json.loads(line)["act"] for line in all_lines}


def test_a_file_ends_where_its_act_says_and_does_not_hold_itself(
    reader: Reader, own_app: FastAPI
) -> None:
    last = newest(own_app).seq
    lines = reader(Role.ADMINISTRATOR).post("/audit/export", data={"as": "jsonl"}).text.splitlines()
    assert [json.loads(line)["seq"] for line in lines] == list(range(1, last + 1))


def test_another_kind_of_file_is_csv(reader: Reader) -> None:
    answer = reader(Role.PHARMACIST).post("/audit/export", data={"as": "exe"})
    assert answer.headers["content-type"].startswith("text/csv")


def test_another_site_cannot_take_a_file(reader: Reader, own_app: FastAPI) -> None:
    before = newest(own_app).seq
    answer = reader(Role.PHARMACIST).post(
        "/audit/export", data={"as": "csv"}, headers={"Sec-Fetch-Site": "cross-site"}
    )
    assert answer.status_code == 403
    assert newest(own_app).seq == before


def test_the_page_has_no_script_or_style_within(reader: Reader) -> None:
    page = reader(Role.PHARMACIST).get("/audit").text
    assert " style=" not in page
    assert re.findall(r"<script(?![^>]*src=)", page) == []
