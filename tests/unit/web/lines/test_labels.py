"""Labels for lumens: six on a sheet, in the words of the plan."""

from datetime import UTC, datetime

from app.patient.lumen_told import LumenTold
from app.web.lines.labels import ENDS, labels_page
from tests.unit.web.lines.conftest import PageOf

NOW = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)


def test_each_lumen_has_a_label_for_either_end_and_six_fill_a_sheet(page_of: PageOf) -> None:
    (sheet,) = labels_page(page_of("11")).sheets
    assert len(sheet) == 6
    assert [(one.lumen, one.end) for one in sheet[:2]] == [("Left forearm", end) for end in ENDS]


def test_a_label_says_what_the_plan_says(page_of: PageOf) -> None:
    page = page_of("25")
    labels = labels_page(page).sheets[0]
    for lumen in ("Left forearm", "Right elbow"):
        rows = tuple(row for row in page.rows if row.lumen == lumen)
        assert {one.runs for one in labels if one.lumen == lumen} == {rows}


def test_a_label_says_of_which_day_it_is_and_by_what_lumen(page_of: PageOf) -> None:
    told = LumenTold("left forearm", "works", NOW, "", "20 G")
    first, *_, last = labels_page(page_of("25", told)).sheets[0]
    assert first.made == "Plan of Tue 4 Mar 2031, 07:05 to 19:05"
    assert (first.where, last.where) == ("peripheral, 20 G", "peripheral")
    assert first.runs[0].given == "1,000 mL, at 80 mL/h"


def test_nothing_is_pushed_by_the_lumen_of_a_vasoactive_drug_and_its_label_says_so(
    page_of: PageOf,
) -> None:
    heed = {one.lumen: one.heed for one in labels_page(page_of("25")).sheets[0]}
    assert heed == {
        "Left forearm": "",
        "Right elbow": "Norepinephrine: no bolus, no flush, no dose by this lumen.",
    }


def test_a_label_with_much_on_it_is_in_smaller_letters(page_of: PageOf) -> None:
    many = {one.lumen: one.many for one in labels_page(page_of("11")).sheets[0]}
    assert many == {
        "Left forearm": False, "Right jugular, distal": False, "Right jugular, proximal": True,
    }  # fmt: skip


def test_a_new_cannula_is_a_peripheral_one(page_of: PageOf) -> None:
    where = {one.lumen: one.where for one in labels_page(page_of("09")).sheets[0]}
    assert where["New cannula 1"] == "peripheral, new"


def test_no_plan_has_no_labels(page_of: PageOf) -> None:
    assert labels_page(page_of("20")).sheets == ()
