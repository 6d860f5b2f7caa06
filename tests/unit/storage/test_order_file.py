"""A file of orders, recognised by what it holds."""

from pathlib import Path

import pytest

from app.intake.errors import InputError
from app.storage.order_file import OrderFile, read_order_file

CSV = """patient_no,order_no,fluid,rate,rate_unit,start,status,colour
12,o1,0.9% sodium chloride,100,mL/h,2031-03-04 06:00,active,blue
12,o2,0.9% sodium chloride,fast,mL/h,2031-03-04 06:00,active,blue
13,o1,5% dextrose,60,mL/h,2031-03-04 06:00,stopped,blue
14,o1,LR,60,mL/h,2031-03-04 06:00,active,blue
"""


def read(path: Path) -> OrderFile:
    return read_order_file(path)


def file_with(tmp_path: Path, content: bytes, name: str = "orders.json") -> Path:
    path = tmp_path / name
    path.write_bytes(content)
    return path


def test_json_is_one_request(tmp_path: Path) -> None:
    path = file_with(tmp_path, b'{"orders": []}')
    assert read(path) == OrderFile({"": {"orders": []}})


def test_json_is_known_by_its_first_sign_whatever_the_file_is_called(tmp_path: Path) -> None:
    path = file_with(tmp_path, b'\xef\xbb\xbf  {"orders": []}', "orders.txt")
    assert read(path) == OrderFile({"": {"orders": []}})


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (b"{", "a JSON object"),
        (b"", "a JSON object"),
        (b'{"weight_kg": NaN}', "a JSON object"),
        (b"[]", "a JSON object"),
        (b'{"resourceType": "Bundle"}', "not in this release"),
        (b"\xff\xfe{}", "UTF-8"),
    ],
)
def test_what_is_no_request_is_told_with_what_is_accepted(
    tmp_path: Path, content: bytes, told: str
) -> None:
    with pytest.raises(InputError, match=told):
        read(file_with(tmp_path, content))


def test_a_folder_is_no_file(tmp_path: Path) -> None:
    with pytest.raises(InputError) as wrong:
        read(tmp_path)
    assert wrong.value.field == "FILE"


def test_a_csv_is_one_request_a_patient(tmp_path: Path) -> None:
    requests = read(file_with(tmp_path, CSV.encode(), "orders.csv")).requests
    assert list(requests) == ["12", "14"]
    assert [order["id"] for order in requests["12"]["orders"]] == ["o1"]


def test_a_row_not_read_and_a_row_left_out_are_both_told(tmp_path: Path) -> None:
    file = read(file_with(tmp_path, CSV.encode(), "orders.csv"))
    assert len(file.not_read) == 1
    assert "Row 3, rate: 'fast'" in file.not_read[0]
    assert any("Row 4" in line and "stopped" in line for line in file.left_out)
    assert any("'colour'" in line for line in file.left_out)


def test_a_csv_without_a_needed_column_is_told_which(tmp_path: Path) -> None:
    text = CSV.replace("rate_unit", "per")
    with pytest.raises(InputError) as wrong:
        read(file_with(tmp_path, text.encode(), "orders.csv"))
    assert wrong.value.field == "rate_unit"
