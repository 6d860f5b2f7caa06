"""Pairs that really run and of which nobody has told us."""

from datetime import date
from typing import Any

from app.catalogue.pairs.answer import PairBook
from app.catalogue.vehicles.vehicle import Vehicles
from app.patient.case import Case
from app.review.pairs.gaps import Gap, gaps_of
from tests.unit.review.pairs.conftest import CaseOf, signed, with_notes

LUMENS = [{"id": "c1", "site": "central"}, {"id": "c2", "site": "central"}]
MIDAZOLAM = {"name": "midazolam infusion 2 mg/h", "kind": "drug"}
MEROPENEM = {"name": "meropenem 1 g over 30 min tds", "kind": "drug"}


def beside(lumens: tuple[str | None, ...], *drugs: dict[str, Any]) -> tuple[dict[str, Any], ...]:
    return tuple({**drug, "lumen": lumen} for drug, lumen in zip(drugs, lumens, strict=True))


def listed(case: Case, book: PairBook, vehicles: Vehicles) -> tuple[Gap, ...]:
    return gaps_of([("7", case)], book, vehicles)


def test_a_pair_on_one_lumen_is_counted_for_the_hours_both_run(
    case_of: CaseOf, book: PairBook, vehicles: Vehicles
) -> None:
    case = case_of(beside=beside(("c1", "c1"), MIDAZOLAM, MEROPENEM), access=LUMENS)
    assert listed(case, book, vehicles) == (Gap("meropenem", "midazolam", 1.5, 1.5, ("7",)),)


def test_on_different_lumens_or_in_turn_they_do_not_meet(
    case_of: CaseOf, book: PairBook, vehicles: Vehicles
) -> None:
    apart = case_of(beside=beside(("c1", "c2"), MIDAZOLAM, MEROPENEM), access=LUMENS)
    assert listed(apart, book, vehicles) == ()
    told = {**MEROPENEM, "name": "meropenem 1 g over 30 min tds, separate line"}
    assert listed(case_of(beside=(MIDAZOLAM, told)), book, vehicles) == ()


def test_where_lumens_are_not_told_the_hours_count_and_none_are_on_one_lumen(
    case_of: CaseOf, book: PairBook, vehicles: Vehicles
) -> None:
    case = case_of(beside=(MIDAZOLAM, MEROPENEM))
    assert listed(case, book, vehicles) == (Gap("meropenem", "midazolam", 1.5, 0, ("7",)),)


def test_two_doses_are_given_in_turn_unless_written_together(
    case_of: CaseOf, book: PairBook, vehicles: Vehicles
) -> None:
    vancomycin = {"name": "vancomycin 1 g over 2 h bd", "kind": "drug"}
    doses = beside(("c1", "c1"), vancomycin, MEROPENEM)
    assert listed(case_of(beside=doses, access=LUMENS), book, vehicles) == ()
    together = tuple({**dose, "arrangement": "by Y-site"} for dose in doses)
    (gap,) = listed(case_of(beside=together, access=LUMENS), book, vehicles)
    assert (gap.one, gap.other, gap.hours) == ("meropenem", "vancomycin", 0.5)


def test_what_is_known_is_no_gap_whatever_it_says(
    case_of: CaseOf, book: PairBook, vehicles: Vehicles
) -> None:
    order = {"fluid": "LR", "rate_ml_h": 80, "lumen": "c1"}
    drugs = beside(("c1",), {"name": "ceftriaxone 1 g over 1 h", "kind": "drug"})
    assert listed(case_of(order, beside=drugs, access=LUMENS), book, vehicles) == ()


def test_of_a_bag_only_the_part_without_data_is_listed(
    case_of: CaseOf, book: PairBook, vehicles: Vehicles
) -> None:
    order = {
        "fluid": "5% dextrose", "rate_ml_h": 80, "lumen": "c1",
        "additives": [{"substance": "potassium chloride", "amount": 20, "unit": "mmol"}],
    }  # fmt: skip
    drug = beside(("c1",), {"name": "levosimendan 0.1 mcg/kg/min", "kind": "drug"})
    gaps = listed(case_of(order, beside=drug, access=LUMENS), book, vehicles)
    assert {(gap.one, gap.other) for gap in gaps} == {
        ("dextrose-5", "levosimendan"), ("levosimendan", "potassium_chloride"),
    }  # fmt: skip


def test_patients_are_summed_and_most_hours_come_first(
    case_of: CaseOf, book: PairBook, vehicles: Vehicles
) -> None:
    one = case_of(beside=beside(("c1", "c1"), MIDAZOLAM, MEROPENEM), access=LUMENS)
    ketamine = {"name": "ketamine infusion 10 mg/h", "kind": "drug"}
    levosimendan = {"name": "levosimendan 0.1 mcg/kg/min", "kind": "drug"}
    two = case_of(beside=beside(("c1", "c1"), ketamine, levosimendan), access=LUMENS)
    gaps = gaps_of([("1", one), ("2", one), ("3", two)], book, vehicles)
    assert gaps == (
        Gap("ketamine", "levosimendan", 24, 24, ("3",)),
        Gap("meropenem", "midazolam", 3, 3, ("1", "2")),
    )


def test_a_signed_note_takes_a_pair_from_the_list_until_its_review_date(
    case_of: CaseOf, book: PairBook, vehicles: Vehicles
) -> None:
    case = case_of(beside=beside(("c1", "c1"), MIDAZOLAM, MEROPENEM), access=LUMENS)
    note = signed("midazolam", "meropenem")
    assert listed(case, with_notes(book, note), vehicles) == ()
    (late,) = listed(case, with_notes(book, note, on=date(2031, 9, 2)), vehicles)
    assert late.lapsed


def test_what_is_not_understood_is_not_listed(
    case_of: CaseOf, book: PairBook, vehicles: Vehicles
) -> None:
    unknown = {"name": "zzz 5 mg/h", "kind": "drug"}
    case = case_of(beside=beside(("c1", "c1"), MIDAZOLAM, unknown), access=LUMENS)
    assert listed(case, book, vehicles) == ()
