"""The line of text beside an order's fields."""

from collections.abc import Callable, Mapping
from datetime import datetime
from typing import Any

import pytest

from app.catalogue.catalogue import Catalogue
from app.chemistry.composition import Composition
from app.intake.fluids import name_book
from app.intake.read import read_case
from app.intake.vocabulary import Vocabulary
from app.intake.wording.line import (
    added_behind,
    depends,
    new_in_line,
    with_line,
    without_doses,
)  # fmt: skip
from app.patient.order import AdditiveDose, Order

Read = Callable[..., Order]


@pytest.fixture
def read(catalogue: Catalogue, vocabulary: Vocabulary, now: datetime) -> Read:
    def read_(**order: object) -> Order:
        request: Mapping[str, Any] = {"patient": {"weight_kg": 70}, "orders": [order]}
        return read_case(request, catalogue=catalogue, vocabulary=vocabulary, now=now).orders[0]

    return read_


def test_what_only_the_line_adds_is_in_the_bag(read: Read) -> None:
    order = read(fluid="0.9% sodium chloride", order_text="1 L with KCl 40 mmol over 8 h")
    assert order.mix is not None and order.mix.potassium_mmol_l == 40
    assert not order.questions


def test_what_the_line_repeats_is_counted_once(read: Read) -> None:
    listed = [{"substance": "KCl", "amount": 20, "unit": "mEq"}]
    order = read(fluid="NS", additives=listed, order_text="NS 1 L c KCl 20 mEq @ 100 mL/h")
    assert order.mix is not None and order.mix.potassium_mmol_l == 20
    assert not order.questions


def test_what_the_line_says_otherwise_is_asked_about(read: Read) -> None:
    listed = [{"substance": "KCl", "amount": 20, "unit": "mEq"}]
    order = read(fluid="NS", additives=listed, order_text="NS 1 L with KCl 40 mEq/L @ 100 mL/h")
    assert order.mix is None
    assert any("beside it: which?" in question.ask for question in order.questions)


def test_a_line_says_which_of_several_fluids_it_is(read: Read) -> None:
    order = read(fluid="Ringers", order_text="Ringer's lactate 1 L over 6 h")
    assert order.fluid is not None and order.fluid.id == "lactated-ringers"


def test_two_fluids_that_do_not_agree_are_both_judged(read: Read) -> None:
    order = read(fluid="NS", order_text="5% dextrose 1 L over 8 h")
    assert order.fluid is None
    assert {f.id for f in order.candidates} == {"sodium-chloride-0.9", "dextrose-5"}


def test_one_fluid_under_two_names_leaves_no_doubt(read: Read) -> None:
    order = read(fluid="Hartmann's", order_text="lactated Ringer's 1 L over 8 h")
    assert order.fluid is not None and order.fluid.id == "compound-sodium-lactate"
    assert not order.questions


def test_a_line_about_the_rate_alone_changes_nothing(
    catalogue: Catalogue, vocabulary: Vocabulary
) -> None:
    book = name_book(catalogue, vocabulary)
    field, line = book.read("NS"), book.read("as charted by the team")
    assert with_line(field, line) is field


@pytest.mark.parametrize(
    ("written", "left"),
    [
        ("KCl 15% 10 mL in 500 mL NS over 4 h", "500 ml"),
        ("DNS 500 ml with inj KCl 10 ml (20 mEq) over 6 hrs", "500 ml"),
        ("calcium gluconate 10% 10 mL over 10 min", "10 mL"),
        ("500 ml NS + 3 amps bicarb (8.4%, 50 mL each)", "500 ml"),
    ],
)
def test_the_ml_drawn_up_are_none_of_the_bag_s(
    vocabulary: Vocabulary, written: str, left: str
) -> None:
    said = without_doses(written, vocabulary)
    assert left in said
    assert said.lower().count(" ml") == 1


def test_only_what_has_an_amount_is_added_behind_a_rate() -> None:
    assert "kcl 20 mmol/l" in added_behind("100 ml/h with kcl 20 mmol/l")
    assert added_behind("100 ml/h, review tomorrow") == ""


def test_a_drug_said_twice_is_one_drug() -> None:
    drug = AdditiveDose("oxytocin", Composition(), "40 units oxytocin")
    assert list(new_in_line((drug,), (drug,), 500)) == []
    assert list(new_in_line((drug,), (), 500)) == [drug]


def test_what_depends_on_something_is_not_in_the_bag_and_is_asked_about(read: Read) -> None:
    order = read(order_text="0.9% NaCl 1 L 8 hourly; add 20 mmol KCl if K under 3.5")
    assert order.mix is not None and order.mix.potassium_mmol_l == 0
    assert [q.written for q in order.questions] == ["add 20 mmol kcl if k under 3.5"]
    assert depends("NS 1 L, if none then LR") == ""


def test_a_salt_in_a_line_not_understood_is_asked_about(read: Read) -> None:
    doubtful = read(fluid="NS", volume_ml=1000, order_text="moonlight with KCl 40 mmol")
    assert [q.written for q in doubtful.questions] == ["40 mmol kcl"]
    drunk = read(fluid="NS", volume_ml=1000, order_text="moonlight, KCl 40 mmol PO")
    assert not drunk.questions
