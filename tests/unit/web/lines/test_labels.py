"""Labels for lumens: six on a sheet, in the words of the plan."""

from app.web.lines.labels import ENDS, labels_page
from tests.unit.web.lines.conftest import PageOf


def test_each_lumen_has_a_label_for_either_end_and_six_fill_a_sheet(page_of: PageOf) -> None:
    (sheet,) = labels_page(page_of("11")).sheets
    assert len(sheet) == 6
    assert [(one.lumen, one.end) for one in sheet[:2]] == [("Left forearm", end) for end in ENDS]


def test_a_label_says_what_the_plan_says(page_of: PageOf) -> None:
    page = page_of("25")
    labels = labels_page(page).sheets[0]
    for lumen in ("Left forearm", "Right elbow"):
        rows = tuple((row.name, row.runs) for row in page.rows if row.lumen == lumen)
        assert {one.runs for one in labels if one.lumen == lumen} == {rows}
    assert labels[0].made == "Plan of 07:05 to 19:05"


def test_no_plan_has_no_labels(page_of: PageOf) -> None:
    assert labels_page(page_of("20")).sheets == ()
