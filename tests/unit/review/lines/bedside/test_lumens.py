"""Which lumens a plan may use."""

import pytest

from app.lines.model import Lumen
from app.patient.lumen_told import LumenTold
from app.review.lines.bedside.lumens import access_of, with_told
from tests.conftest import NOW
from tests.unit.review.lines.bedside.conftest import TWO, CaseOf


def test_lumens_keep_their_order_and_site(case_of: CaseOf) -> None:
    access = access_of(case_of(access=TWO).patient)
    assert access.lumens == (Lumen("left hand", "peripheral"), Lumen("right hand", "peripheral"))
    assert access.notes == access.left_out == ()


def test_a_failed_lumen_is_left_out_and_said(case_of: CaseOf) -> None:
    access = access_of(case_of(access=TWO).patient, frozenset({"left hand"}))
    assert [lumen.id for lumen in access.lumens] == ["right hand"]
    assert access.left_out == ("Left hand has failed.",)


def test_a_reserved_lumen_keeps_its_role(case_of: CaseOf) -> None:
    roles = {
        "for nutrition": "nutrition", "TPN": "nutrition", "vasopressors": "vasoactive",
        "inotropes": "vasoactive", "CVP monitoring": "monitoring",
    }  # fmt: skip
    for words, role in roles.items():
        lumen = {"id": "neck", "site": "central", "role": words}
        assert access_of(case_of(access=[lumen]).patient).lumens == (
            Lumen("neck", "central", role),  # type: ignore[arg-type]
        )


def test_a_lumen_kept_for_something_unknown_is_not_used(case_of: CaseOf) -> None:
    lumen = {"id": "neck", "site": "central", "role": "dialysis"}
    access = access_of(case_of(access=[lumen]).patient)
    assert access.lumens == ()
    assert access.left_out == ("Neck is kept for “dialysis” and is not used.",)


def test_a_lumen_of_unknown_site_counts_as_peripheral_and_that_is_said(case_of: CaseOf) -> None:
    access = access_of(case_of(access=[{"id": "line 1"}]).patient)
    assert access.lumens == (Lumen("line 1", "peripheral"),)
    assert access.notes == ("Whether line 1 is central is not told: it counts as peripheral.",)


def test_the_name_of_a_lumen_may_tell_its_site(case_of: CaseOf) -> None:
    access = access_of(case_of(access=[{"id": "right jugular"}]).patient)
    assert access.lumens[0].site == "central"


@pytest.mark.parametrize(
    "name", ["right radial artery", "arterial line", "A-line", "dialysis catheter", "epidural"]
)
def test_nothing_is_ever_planned_into_what_is_no_vein(case_of: CaseOf, name: str) -> None:
    lumen = {"id": name, "site": "peripheral"}
    access = access_of(case_of(access=[lumen]).patient)
    assert access.lumens == ()
    assert "is not a vein to infuse by" in access.left_out[0]


def test_what_was_placed_meanwhile_is_planned_with(case_of: CaseOf) -> None:
    placed = LumenTold("left foot", "placed", NOW, site="peripheral")
    case = with_told(case_of(access=TWO), {"left foot": placed})
    assert [lumen.id for lumen in access_of(case.patient).lumens] == [
        "left hand", "right hand", "left foot",
    ]  # fmt: skip


def test_what_is_not_used_is_told_and_what_failed_is_told_elsewhere(case_of: CaseOf) -> None:
    lumens = [*TWO, {"id": "neck", "site": "central", "role": "haemofiltration"}]
    access = access_of(case_of(access=lumens).patient, frozenset({"left hand"}))
    assert access.not_used == ("Neck is kept for “haemofiltration” and is not used.",)
