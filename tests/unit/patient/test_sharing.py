from datetime import UTC, datetime

import pytest

from app.patient.access import Lumen
from app.patient.case import Case
from app.patient.order import CoInfusion, Order
from app.patient.sharing import Sharing, closest, sharing
from app.patient.snapshot import Snapshot

NOW = datetime(2031, 3, 4, 7, 0, tzinfo=UTC)


def how(fluid_on: str | None, drug_on: str | None, lumens: int, arrangement: str = "") -> Sharing:
    order = Order("o1", "lactated Ringer's", None, lumen=fluid_on)
    drug = CoInfusion("red cells", "blood", lumen=drug_on, arrangement=arrangement)  # type: ignore[arg-type]
    access = tuple(Lumen(f"p{n}", "peripheral") for n in range(1, lumens + 1))
    return sharing(Case(Snapshot(now=NOW, access=access), (order,), (drug,)), order, drug)


@pytest.mark.parametrize(
    ("fluid_on", "drug_on", "lumens", "arrangement", "way"),
    [
        ("p1", "p1", 2, "", "together"),
        ("p1", "p2", 2, "", "apart"),
        ("p1", "p2", 2, "together", "apart"),
        ("p1", "p1", 2, "in turn", "in turn"),
        (None, None, 1, "in turn", "in turn"),
        (None, None, 1, "separate", "apart"),
        (None, None, 0, "together", "together"),
        (None, None, 1, "", "one lumen"),
        ("p1", None, 1, "", "one lumen"),
        (None, None, 0, "", "not known"),
        ("p1", None, 2, "", "room"),
        (None, None, 2, "", "room"),
    ],
)
def test_how_a_fluid_and_blood_share_their_lines(
    fluid_on: str | None, drug_on: str | None, lumens: int, arrangement: str, way: Sharing
) -> None:
    assert how(fluid_on, drug_on, lumens, arrangement) == way


def test_two_lumens_are_not_room_for_three_infusions() -> None:
    order = Order("o1", "lactated Ringer's", None)
    blood, drug = CoInfusion("red cells", "blood"), CoInfusion("heparin", "drug")
    access = (Lumen("p1", "peripheral"), Lumen("p2", "peripheral"))
    case = Case(Snapshot(now=NOW, access=access), (order,), (blood, drug))
    assert sharing(case, order, blood) == "not known"


def test_the_closest_of_several_is_the_one_surely_on_the_line() -> None:
    order = Order("o1", "lactated Ringer's", None, lumen="p1")
    far, near = CoInfusion("a", "blood", lumen="p2"), CoInfusion("b", "blood", lumen="p1")
    case = Case(Snapshot(now=NOW), (order,), (far, near))
    assert closest(case, order, (far, near)) == ("together", near)
    assert closest(case, order, ()) is None


def test_an_infusion_is_not_beside_itself() -> None:
    blood = CoInfusion("red cells", "blood")
    assert closest(Case(Snapshot(now=NOW), (), (blood,)), blood, (blood,)) is None


def test_what_a_bag_carries_is_not_beside_that_bag() -> None:
    first = Order("o1", "ceftriaxone in saline", None, lumen="p1")
    second = Order("o2", "lactated Ringer's", None, lumen="p1")
    carried = CoInfusion("ceftriaxone", "drug", lumen="p1", carried_by="o1")
    case = Case(Snapshot(now=NOW), (first, second), (carried,))
    assert closest(case, first, (carried,)) is None
    assert closest(case, second, (carried,)) == ("together", carried)


def test_what_a_bag_carries_needs_no_lumen_of_its_own() -> None:
    order, blood = Order("o1", "insulin in saline", None), CoInfusion("red cells", "blood")
    carried = CoInfusion("insulin", "drug", carried_by="o1")
    access = (Lumen("p1", "peripheral"), Lumen("p2", "peripheral"))
    case = Case(Snapshot(now=NOW, access=access), (order,), (blood, carried))
    assert sharing(case, order, blood) == "room"
