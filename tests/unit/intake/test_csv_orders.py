"""The plain CSV: one bad row never stops the file, and every one is told."""

from datetime import timedelta, timezone

import pytest

from app.intake.csv_orders import read_orders_csv
from app.intake.errors import InputError

HEADER = "patient_no,fluid,rate,rate_unit,start"
GOOD = "007,0.9% sodium chloride,125,mL/h,2031-03-02 09:10"


def test_a_good_row_becomes_an_order_of_its_patient() -> None:
    read = read_orders_csv(f"{HEADER}\n{GOOD}\n007,5% dextrose,80,ml/hr,2031-03-02 10:00\n")
    (request,) = read.requests.values()
    assert list(read.requests) == ["007"]
    assert [order["rate_ml_h"] for order in request["orders"]] == [125, 80]
    (request,) = read_orders_csv(f"{HEADER}\n{GOOD}\n").requests.values()
    assert request["orders"][0]["id"] == "row 2"


@pytest.mark.parametrize("column", HEADER.split(","))
def test_a_missing_column_is_named(column: str) -> None:
    header = ",".join(name for name in HEADER.split(",") if name != column)
    with pytest.raises(InputError) as caught:
        read_orders_csv(f"{header}\n")
    assert caught.value.field == column and column in caught.value.accepted


@pytest.mark.parametrize(
    ("row", "column"),
    [
        ("007,NS,12o,mL/h,2031-03-02 09:10", "rate"), ("007,NS,99999,mL/h,2031-03-02 09:10",
        "rate"),
        ("007,NS,125,,2031-03-02 09:10", "rate_unit"), ("007,NS,125,mL/h,02/03/2031", "start"),
        ("007,NS,125,mL/h,2031-03-02", "start"), (",NS,125,mL/h,2031-03-02 09:10", "patient_no"),
        ("007,,125,mL/h,2031-03-02 09:10", "fluid"), ("007,NS,-5,mL/h,2031-03-02 09:10", "rate"),
    ],
)  # fmt: skip
def test_a_bad_row_is_told_and_the_rest_is_read(row: str, column: str) -> None:
    read = read_orders_csv(f"{HEADER}\n{row}\n{GOOD}\n")
    (problem,) = read.problems
    assert (problem.row, problem.column) == (2, column)
    assert problem.accepted and str(problem).startswith("Row 2")
    assert len(read.requests["007"]["orders"]) == 1


def test_semicolons_bring_a_decimal_comma_and_a_byte_order_mark_does_no_harm() -> None:
    text = "\ufeffPatient No;Fluid;Rate;Rate Unit;Start\n9;NS;83,3;mL/h;2031-03-02 09:10\n"
    assert read_orders_csv(text).requests["9"]["orders"][0]["rate_ml_h"] == 83.3


def test_a_rate_by_weight_goes_on_as_words() -> None:
    text = f"{HEADER}\n9,NS,2,mL/kg/h,2031-03-02 09:10\n"
    assert read_orders_csv(text).requests["9"]["orders"][0]["rate_text"] == "2 mL/kg/h"


def test_additives_route_status_and_stop_are_read() -> None:
    header = f"{HEADER},stop,status,route,additive_1,additive_1_amount,additive_1_unit,colour"
    start = "2031-03-02 09:10"
    rows = (
        f"1,NS,125,mL/h,{start},2031-03-02 17:10,active,IV,KCl,20,mmol,red",
        f"2,NS,125,mL/h,{start},,stopped,IV,,,,", f"3,NS,125,mL/h,{start},,active,oral,,,,",
        f"4,NS,125,mL/h,{start},2031-03-01 09:10,active,IV,,,,",
    )  # fmt: skip
    read = read_orders_csv("\n".join((header, *rows)))
    order = read.requests["1"]["orders"][0]
    assert order["duration_h"] == 8
    assert order["additives"] == [{"substance": "KCl", "amount": 20, "unit": "mmol"}]
    assert [left.column for left in read.left_out] == ["status", "route"]
    assert [problem.column for problem in read.problems] == ["stop"]
    assert read.ignored_columns == ("colour",)


def test_times_stand_in_the_hospitals_zone() -> None:
    zone = timezone(timedelta(hours=2))
    read = read_orders_csv(f"{HEADER}\n{GOOD}\n", zone=zone)
    assert read.requests["007"]["orders"][0]["starts_at"] == "2031-03-02T09:10:00+02:00"


@pytest.mark.parametrize("text", ["", "\n\n", "hello", "a;b;c\n1;2;3"])
def test_what_is_no_such_file_is_refused(text: str) -> None:
    with pytest.raises(InputError):
        read_orders_csv(text)


@pytest.mark.parametrize("written", ["KVO", "75 an hour", "over 8 hours"])
def test_a_rate_in_words_goes_on_as_words(written: str) -> None:
    text = f"{HEADER}\n9,NS,{written},,2031-03-02 09:10\n"
    assert read_orders_csv(text).requests["9"]["orders"][0]["rate_text"] == written


def test_a_rate_in_words_that_say_nothing_is_told_as_not_read() -> None:
    file = read_orders_csv(f"{HEADER}\n9,NS,somehow,mL/h,2031-03-02 09:10\n")
    assert [problem.column for problem in file.problems] == ["rate"]


def test_an_order_on_hold_is_told_as_such() -> None:
    text = f"{HEADER},status\n9,NS,125,mL/h,2031-03-02 09:10,on-hold\n"
    (order,) = read_orders_csv(text).requests["9"]["orders"]
    assert order["rate_text"] == "on hold" and order["rate_ml_h"] == 125
