"""Across the app: what is out or withdrawn is suggested nowhere, and where a rule's own words name
it, it is said there and then that it cannot be had.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from html.parser import HTMLParser

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient

from app.catalogue.stock.stock import State, StockState
from app.cautions.phrases import ASIDE
from app.review.knowledge import Knowledge
from app.review.shortage.draws import draws_of
from app.review.workflow import review_unit
from app.storage.database import reading, transaction
from app.storage.stock import tell_stock

NOW = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)
BLOCKS = frozenset({"p", "li", "dd", "td", "th", "h1", "h2", "h3", "h4", "h5", "summary"})
# Lists to choose from name every fluid there is; they suggest none.
LISTS = frozenset({"option", "select", "datalist", "script", "style"})
BEDS = tuple(f"bed-{n:02}" for n in range(1, 26))
PAGES = (
    "/",
    *(f"/patients/{bed}" for bed in BEDS),
    *(f"/lines/{bed}" for bed in BEDS),
    *(f"/predict?patient={bed}" for bed in ("bed-04", "bed-05", "bed-22")),
    *(f"/compare?patient={bed}&fluid=sodium-chloride-0.9" for bed in ("bed-01", "bed-04")),
    "/orders/new?patient=bed-09&fluid=lactated+Ringer%27s+(US)&volume=1000&rate=100&instead=o1",
    "/orders/new?patient=bed-16&fluid=5%25+glucose&volume=1000&rate=75&instead=o1",
)


class Blocks(HTMLParser):
    """What each innermost block of a page says."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.open: list[list[str]] = [[]]
        self.said: list[str] = []
        self.silent = 0
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: object) -> None:
        if tag in LISTS:
            self.silent += 1
        if tag in BLOCKS:
            self.open.append([])

    def handle_endtag(self, tag: str) -> None:
        if tag in LISTS:
            self.silent -= 1
        if tag in BLOCKS and len(self.open) > 1:
            self.said.append(" ".join("".join(self.open.pop()).split()))

    def handle_data(self, data: str) -> None:
        if not self.silent:
            self.open[-1].append(data)


@dataclass(frozen=True)
class Gone:
    """Names of fluids of which none may be had, and a pattern that finds any name whole."""

    names: frozenset[str]
    any_name: re.Pattern[str]

    def named_in(self, said: str) -> bool:
        """Of names that begin alike or hold each other the longest counts."""
        return not self.names.isdisjoint(self.any_name.findall(said))


def gone_names(knowledge: Knowledge, fluid_ids: set[str]) -> Gone:
    """The names of these fluids, where none that may be had shares the name."""
    there = {ASIDE.sub("", f.name) for f in knowledge.catalogue if f.id not in fluid_ids}
    bare = {ASIDE.sub("", f.name) for f in knowledge.catalogue if f.id in fluid_ids} - there
    longest = sorted(there | bare, key=len, reverse=True)
    any_name = re.compile(rf"(?<![\w.])(?:{'|'.join(map(re.escape, longest))})(?!\w)")
    return Gone(frozenset(bare), any_name)


@pytest.fixture(params=["out", "withdrawn"])
def state(request: pytest.FixtureRequest) -> State:
    """Either way of not being there."""
    found: State = request.param
    return found


@pytest.fixture
def gone(own_app: FastAPI, state: State) -> Gone:
    """Everything that nobody on the unit has hanging is told to be gone."""
    knowledge: Knowledge = own_app.state.knowledge
    with reading(own_app.state.engine) as session:
        beds = review_unit(session, knowledge)
    cases = [bed.review.case for bed in beds]
    draws = (d for c in cases for d in draws_of(c, knowledge.catalogue, knowledge.vehicles))
    meant = {fluid.id for c in cases for order in c.orders for fluid in order.candidates}
    used = {draw.fluid.id for draw in draws} | meant
    unused = {fluid.id for fluid in knowledge.catalogue} - used
    with transaction(own_app.state.engine) as session:
        for fluid_id in sorted(unused):
            tell_stock(session, fluid_id, StockState(state, NOW, "none to be had", "J.B."))
    return gone_names(knowledge, unused)


def unsaid(page: str, gone: Gone, state: State) -> Iterator[str]:
    """The blocks that name what is gone, and not that it is."""
    yield from (said for said in Blocks(page).said if gone.named_in(said) and state not in said)


def test_no_page_suggests_what_cannot_be_had(ward: TestClient, gone: Gone, state: State) -> None:
    for path in PAGES:
        answer = ward.get(path)
        assert answer.status_code == 200, path
        assert list(unsaid(answer.text, gone, state)) == [], path


def test_no_rehearsal_turns_to_what_cannot_be_had(
    ward: TestClient, gone: Gone, state: State
) -> None:
    for fluid in ("sodium-chloride-0.9", "lactated-ringers", "dextrose-5", "albumin-20"):
        for page in ("/shortage", "/shortage/plan"):
            answer = ward.get(page, params={"lost": fluid})
            assert answer.status_code == 200
            assert list(unsaid(answer.text, gone, state)) == [], (page, fluid)


def test_the_finder_of_lacks_finds_one(gone: Gone, state: State) -> None:
    page = "<li>Turn to Ringer's acetate (Europe)</li><p>Ringer's acetate is " + state + ".</p>"
    assert list(unsaid(page, gone, state)) == ["Turn to Ringer's acetate (Europe)"]


def test_while_they_are_there_the_same_pages_do_suggest_them(
    client: TestClient, gone: Gone
) -> None:
    paths = ("/patients/bed-09", "/patients/bed-04", "/shortage?lost=sodium-chloride-0.9")
    named = [said for path in paths for said in Blocks(client.get(path).text).said
             if gone.named_in(said)]  # fmt: skip
    assert len(named) > len(paths)
