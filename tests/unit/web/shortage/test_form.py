"""The form: what is in use first, what is picked ticked, every fault beside its field."""

from datetime import UTC, datetime
from types import MappingProxyType

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.entry import EntryError
from app.catalogue.stock.counts import NOTHING_COUNTED
from app.review.shortage.asked import Asked
from app.review.shortage.draws import Draw
from app.review.shortage.rehearsal import Unit
from app.web.shortage.form import LABELS, Form, faults_of, form_of

NOW = datetime(2031, 3, 4, 7, 0, tzinfo=UTC)
TYPED = MappingProxyType({"add": "", "share": "60", "from": "", "days": ""})


@pytest.fixture
def form(catalogue: Catalogue) -> Form:
    saline, ringers = (catalogue.get(key) for key in ("sodium-chloride-0.9", "lactated-ringers"))
    assert saline is not None and ringers is not None
    draws = (Draw("order", "o1", ringers, 500, 500, 1), Draw("order", "o2", saline, 1800, 1000, 2))
    unit: Unit[str] = Unit((("p", None, draws),))  # type: ignore[arg-type]
    picked = ("sodium-chloride-0.9@1000", "mannitol-20@500", "nonsense")
    return form_of(Asked(None, TYPED, picked), unit, catalogue, NOTHING_COUNTED, NOW)


def test_the_most_used_stands_on_top_and_what_is_picked_is_ticked(form: Form) -> None:
    assert [one.row.fluid_id for one in form.used] == ["sodium-chloride-0.9", "lactated-ringers"]
    ticked = {pick.key for one in form.used for pick in one.picks if pick.picked}
    assert ticked == {"sodium-chloride-0.9@1000"}


def test_what_is_picked_and_not_in_use_is_listed_and_nonsense_is_not(form: Form) -> None:
    assert [(one.key, one.words) for one in form.others] == [
        ("mannitol-20@500", "500 mL bags of 20% mannitol")
    ]


def test_what_was_typed_stays_and_names_are_those_of_the_catalogue(
    form: Form, catalogue: Catalogue
) -> None:
    assert form.typed["share"] == "60"
    assert len(form.names) == len(catalogue)


def test_every_field_has_its_place_for_a_fault() -> None:
    assert faults_of(()) == dict.fromkeys(LABELS, "")
    told = faults_of([EntryError("share", "140", "at most 100")])
    assert told["share"] == (
        "How much of deliveries: “140” is not accepted. Accepted: at most 100."
    )
    assert told["days"] == ""
