"""The form that tells of stock keeps what was typed and says what is accepted."""

from fastapi import FastAPI

from app.catalogue.entry import EntryError
from app.storage.database import reading
from app.web.fluids.shelf import shelf_of
from app.web.fluids.stock_form import StockCard, message, stock_card

GONE = "multiple-electrolytes-type-1-ph-7.4"


def card(
    app: FastAPI, typed: dict[str, str] | None = None, fault: EntryError | None = None
) -> StockCard:
    with reading(app.state.engine) as session:
        return stock_card(session, GONE, shelf_of(session), typed, fault)


def test_the_state_told_last_is_chosen_and_the_reason_is_asked_anew(app: FastAPI) -> None:
    shown = card(app)
    assert [one.value for one in shown.choices if one.chosen] == ["out"]
    assert shown.typed == {"state": "", "note": "", "by": ""}
    assert shown.now.gone
    assert shown.earlier == ()


def test_what_was_typed_stays_beside_its_fault(app: FastAPI) -> None:
    typed = {"state": "short", "note": "", "by": "J.B."}
    shown = card(app, typed, EntryError("note", "", "why it is short, in a few words"))
    assert [one.value for one in shown.choices if one.chosen] == ["short"]
    assert shown.typed["by"] == "J.B."
    assert shown.fault[0] == "note"


def test_a_fault_names_field_value_and_what_is_accepted() -> None:
    assert message(EntryError("state", "gone", "out or short")) == (
        "Where it is: “gone” is not accepted. Accepted: out or short."
    )
    assert message(EntryError("note", "", "why")) == "Why: nothing is written. Accepted: why."
