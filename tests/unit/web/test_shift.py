"""The shift board: worst first, at most ten unfolded, and nothing missing passed over."""

import re
from dataclasses import dataclass, replace
from datetime import UTC, datetime

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient
from sqlalchemy import Engine, update

from app.main import create_app
from app.review.knowledge import Knowledge
from app.review.shift import MOST_OPEN
from app.review.workflow import Bedside, review_request, review_unit
from app.settings import read_settings
from app.storage.database import reading, transaction
from app.storage.past.past import held_past, read_past
from app.storage.seed import seed
from app.storage.tables import ObservationRow, UnitRow
from app.web.shift import ShiftPage, headline, shift_page
from tests.conftest import LOADED
from tests.people import EVERYDAY, Clients
from tests.unit.web.conftest import Tell

NOW = datetime(2031, 3, 4, 7, 0, tzinfo=UTC)
SALT = {"fluid": "0.9% sodium chloride", "volume_ml": 1000, "rate_ml_h": 100}
POTASSIUM = {"substance": "potassium chloride", "amount": 40, "unit": "mmol"}


@pytest.fixture
def page(app: FastAPI) -> ShiftPage:
    with reading(app.state.engine) as session:
        beds = review_unit(session, app.state.knowledge)
    return shift_page(beds, app.state.knowledge, NOW)


def bedside(app: FastAPI, number: int, potassium: float | None) -> Bedside:
    """A bed with potassium running, and this potassium result."""
    results = [] if potassium is None else [result("potassium", potassium)]
    request = {
        "setting": "adult ward",
        "patient": {"age_years": 60, "sex": "female", "weight_kg": 70, "observations": results},
        "orders": [{"id": "o1", **SALT, "additives": [POTASSIUM]}],
    }
    review = review_request(request, app.state.knowledge, now=NOW)
    return Bedside(f"p{number}", f"{number:02}", "A.B.", request, review)


def result(name: str, value: float) -> dict[str, object]:
    taken = "2031-03-04T06:00:00Z"
    return {"name": name, "value": value, "unit": "mmol/L", "taken_at": taken}


def test_the_board_counts_beds_to_call_about_and_to_check(client: TestClient) -> None:
    board = client.get("/").text
    assert re.search(r"<h1>\d+ beds? to call about, \w+ to check\.</h1>", board)


def test_every_critical_bed_stands_before_every_warning(page: ShiftPage) -> None:
    levels = [row.lead.level for row in (*page.first, *page.check) if row.lead]
    assert "critical" in levels
    assert "warning" in levels
    assert levels == sorted(levels)


def test_every_bed_is_in_exactly_one_group(app: FastAPI, page: ShiftPage) -> None:
    groups = (page.first, page.check, page.missing, page.nothing)
    beds = [row.bed for group in groups for row in group]
    assert len(beds) == len(set(beds)) == int(page.patients.split()[0])


def test_a_row_says_bed_person_sentence_order_and_what_to_do(
    app: FastAPI, client: TestClient
) -> None:
    view = shift_page((bedside(app, 7, 6.1),), app.state.knowledge, NOW)
    (row,) = view.first
    assert row.who == "A.B., 60 y, 70 kg"
    assert row.lead is not None
    assert "6.1" in row.lead.summary
    assert "0.9% sodium chloride with" in row.lead.orders[0]
    assert "100 mL/h" in row.lead.orders[0]
    assert row.lead.do
    assert client.get("/").text.count("<b>Do</b>") >= 1


def test_no_more_than_ten_rows_are_unfolded(app: FastAPI) -> None:
    beds = tuple(bedside(app, number, 6.1) for number in range(1, 14))
    view = shift_page(beds, app.state.knowledge, NOW)
    assert len(view.first) == MOST_OPEN
    assert len(view.check) == 3


def test_a_bed_that_could_not_be_assessed_is_not_among_those_with_nothing_found(
    app: FastAPI,
) -> None:
    bed = bedside(app, 3, 4.2)
    missing = replace(
        bed.review,
        patient_found=(),
        orders=tuple(
            replace(one, found=(), not_assessed=bed_missing(app)) for one in bed.review.orders
        ),
    )
    view = shift_page((replace(bed, review=missing),), app.state.knowledge, NOW)
    assert [row.bed for row in view.missing] == ["03"]
    assert not view.nothing


def bed_missing(app: FastAPI) -> tuple[object, ...]:
    """What potassium without any result leaves not assessed."""
    not_assessed = bedside(app, 3, None).review.orders[0].not_assessed
    assert not_assessed
    return not_assessed


def test_nothing_found_is_never_called_safe_or_well(client: TestClient) -> None:
    words = set(re.findall(r"[a-z]+", re.sub(r"<[^>]*>", " ", client.get("/").text).lower()))
    assert not words & {"safe", "ok", "okay", "compatible", "green"}


def test_an_order_whose_name_is_doubtful_is_read_out_as_written(page: ShiftPage) -> None:
    doubtful = [r for r in page.first if r.lead and r.lead.rule_id == "order-ambiguous"]
    assert doubtful
    assert all(row.lead and row.lead.orders[0].startswith("“") for row in doubtful)


def test_an_empty_unit_says_what_is_so(app: FastAPI) -> None:
    view = shift_page((), app.state.knowledge, NOW)
    assert view.headline == "Nothing found that needs a call or a check."
    assert view.results_up_to == "no results"


def test_numbers_in_the_headline_are_read_as_words_where_there_are_none() -> None:
    assert headline(0, 2) == "No beds to call about, 2 to check."
    assert headline(1, 0) == "1 bed to call about, none to check."


def test_looking_again_brings_the_list_alone_and_it_is_a_piece_of_the_page(
    client: TestClient, htmx: TestClient
) -> None:
    part = htmx.get("/").text
    assert part.strip().startswith('<div id="board"')
    assert part.strip() in client.get("/").text


def test_the_board_needs_no_script_and_has_none_within(client: TestClient) -> None:
    board = client.get("/").text
    assert not re.search(r"<script(?![^>]*src=)|\son\w+=|\sstyle=|<style", board)
    assert 'href="/" hx-get="/"' in board


@pytest.fixture
def own(engine: Engine) -> FastAPI:
    """An app whose demo unit this test alone changes."""
    with transaction(engine) as session:
        seed(session, now=LOADED, demo=True)
    url = engine.url.render_as_string(hide_password=False)
    return create_app(read_settings({"RINGSIDE_DEMO": "1", "RINGSIDE_DATABASE_URL": url}))


def rows_by_bed(board: str) -> dict[str, str]:
    """Each bed's row of a page, without the pages' heads."""
    parts = re.split(r'(?=<li class="shift-row)', board)[1:]
    return {match[1]: part for part in parts if (match := re.search(r'id="bed-(\d+)"', part))}


def test_looking_twice_shows_the_same_board_and_a_new_result_shows_at_once(
    own: FastAPI, clients: Clients
) -> None:
    client = clients(own, *EVERYDAY)
    first = client.get("/").text
    assert client.get("/").text == first
    with transaction(own.state.engine) as session:
        bed = ObservationRow.patient_id == "bed-04"
        potassium = bed & (ObservationRow.name == "potassium")
        assert session.execute(update(ObservationRow).where(potassium).values(value=7.4))
    second = client.get("/").text
    assert "7.4" in rows_by_bed(second)["04"]
    assert "7.4" not in rows_by_bed(first)["04"]
    assert rows_by_bed(first)["15"].split("</li>")[0] == rows_by_bed(second)["15"].split("</li>")[0]


@dataclass
class AlwaysAtHand:
    """The same knowledge at every moment."""

    found: Knowledge

    def knowledge(self, _now: datetime) -> Knowledge:
        return self.found


def test_other_knowledge_shows_at_once(own: FastAPI, clients: Clients) -> None:
    client = clients(own, *EVERYDAY)
    assert "Nothing found that needs" not in client.get("/").text
    knowledge = own.state.knowledge
    silent = replace(knowledge, ruleset=knowledge.ruleset.only(()))
    own.state.at_hand = AlwaysAtHand(silent)
    assert "Nothing found (25)" in client.get("/").text


def test_what_is_told_of_stock_shows_at_once_in_ways_out_and_beside_orders(
    ward: TestClient, tell: Tell
) -> None:
    way = 'href="/catalogue/sodium-chloride-0.9"'
    before = rows_by_bed(ward.get("/").text)
    assert way in before["09"]
    assert "0.9% sodium chloride: out" not in before["22"]
    tell("sodium-chloride-0.9", "out")
    after = rows_by_bed(ward.get("/").text)
    assert way not in after["09"]
    assert "Here 0.9% sodium chloride is out." in after["09"]
    assert "0.9% sodium chloride: out since 07:05. Lorry late." in after["22"]
    tell("sodium-chloride-0.9", "on the ward", "")
    assert way in rows_by_bed(ward.get("/").text)["09"]


def test_stock_calls_nobody_and_moves_no_bed(ward: TestClient, tell: Tell) -> None:
    before = ward.get("/").text
    tell("sodium-chloride-0.9", "out")
    after = ward.get("/").text
    heads = [re.findall(r"<h1>.*</h1>|<li .*>", page) for page in (before, after)]
    assert heads[0] == heads[1]


def test_the_board_is_only_read(client: TestClient) -> None:
    answer = client.post("/")
    assert answer.status_code == 405
    assert "only read" in answer.text


def test_a_finding_on_a_result_says_when_it_was_taken(page: ShiftPage) -> None:
    row = next(row for row in page.first if row.bed == "04")
    assert row.lead is not None
    assert row.lead.taken == "Potassium taken 05:35"


def test_a_unit_whose_clock_runs_keeps_its_beds_without_their_people(
    ward: TestClient, own_app: FastAPI
) -> None:
    engine = own_app.state.engine
    assert ward.get("/").status_code == 200
    with transaction(engine) as session:
        assert held_past(session).requests == 0  # the demo stands still
        session.execute(update(UnitRow).values(fixed_now=None))
    ward.get("/")
    ward.get("/")
    with reading(engine) as session:
        kept = held_past(session).requests
        past = read_past(session, 1)
    assert kept == 25
    assert past is not None
    assert "initials" not in str(past.request)
