"""A fluid's entry is written, checked and drafted; nothing typed is lost."""

import re
from datetime import timedelta
from html import unescape

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient

from app.security.acts import Role
from tests.people import Clients
from tests.unit.web.changes.conftest import decide
from tests.unit.web.fluids.edit.conftest import (
    EDIT,
    IN_A_YEAR,
    NOW,
    POTASSIUM,
    Form,
    OpenForm,
    hidden,
    number_of,
    sent,
)

YESTERDAY = (NOW - timedelta(days=1)).strftime("%Y-%m-%dT%H:%M")
NEW = {
    "id": "saline-of-here", "name": "0.9% sodium chloride of here", "kind": "crystalloid",
    "composition_mmol_l.sodium": "154", "composition_mmol_l.chloride": "154",
    "source.0.work": "the label of our own pharmacy", "source.0.seen": "1",
    "reason": "made here", "review_on": IN_A_YEAR, "do": "send",
}  # fmt: skip
HTMX = {"HX-Request": "true"}


def test_the_form_opens_with_what_is_in_force(pharmacist: TestClient) -> None:
    html = pharmacist.get(EDIT).text
    for words in ('value="1.35"', "counts for nothing", "Nothing differs", "US label", "2.7 mEq/L"):
        assert words in html


def test_the_second_key_of_a_fluid_opens_the_same(pharmacist: TestClient) -> None:
    assert (
        'action="/catalogue/lactated-ringers/edit"' in pharmacist.get("/catalogue/lr-us/edit").text
    )


@pytest.mark.parametrize("method", ["get", "post"])
def test_a_fluid_that_is_not_there_has_no_form(pharmacist: TestClient, method: str) -> None:
    assert getattr(pharmacist, method)("/catalogue/nonsuch/edit").status_code == 404


@pytest.mark.parametrize("role", [Role.NURSE, Role.EDUCATOR])
def test_who_may_not_draft_has_no_form_and_no_link(
    own_app: FastAPI, clients: Clients, role: Role
) -> None:
    client = clients(own_app, role)
    assert client.get(EDIT).status_code == 403
    assert client.get("/catalogue/new").status_code == 403
    assert "/lactated-ringers/edit" not in client.get("/catalogue/lactated-ringers").text


def test_a_change_is_drafted_approved_and_shown_and_the_old_figure_stays_in_the_history(
    pharmacist: TestClient, colleague: TestClient, form: OpenForm
) -> None:
    number = number_of(sent(pharmacist, form(pharmacist, POTASSIUM)))
    change = pharmacist.get(f"/changes/{number}").text
    assert re.search(r"potassium, mmol/L</th><td>4</td><td><b>5\.4", change)
    assert "label 275 mOsm/L" not in pharmacist.get("/catalogue/lactated-ringers").text
    decide(colleague, number, "approve", reason="not replayed, seen on the bag")
    card = colleague.get("/catalogue/lactated-ringers").text
    assert "label 275 mOsm/L" in card
    history = colleague.get("/catalogue/lactated-ringers/history").text
    assert "5.4" in history and "273" in history


def test_figures_that_do_not_balance_stop_the_draft_and_a_reason_lets_it_through(
    pharmacist: TestClient, form: OpenForm
) -> None:
    lone = {"composition_mmol_l.potassium": "5.4"}
    answer = sent(pharmacist, form(pharmacist, lone))
    assert answer.status_code == 422
    assert "138.1 mEq/L of cations against 137 of anions" in answer.text
    assert 'value="5.4"' in answer.text and "new label" in answer.text
    number_of(sent(pharmacist, form(pharmacist, {**lone, "explained.charge": "as printed"})))


@pytest.mark.parametrize(
    ("field", "written", "told"),
    [
        ("composition_mmol_l.sodium", "a lot", "“a lot” is not accepted"),
        ("name", "", "a text that is not empty"),
        ("name", "0.9% Sodium Chloride", "a name that sodium-chloride-0.9 does not have"),
        ("reason", "", "why it is changed"),
        ("effective_from", YESTERDAY, "a moment not before"),
        ("review_on", "2020-01-01", "a day after"),
        ("based_on", "whenever", "the moment at which"),
        ("revises", "77", "that was sent back"),
        ("source.0.covers", "all of it", "nothing for all"),
    ],
)
def test_what_is_not_accepted_is_told_and_nothing_typed_is_lost(
    pharmacist: TestClient, form: OpenForm, field: str, written: str, told: str
) -> None:
    typed = form(pharmacist, {**POTASSIUM, field: written, "note": "kept words"})
    answer = sent(pharmacist, typed)
    assert answer.status_code == 422
    assert told in answer.text
    assert "kept words" in answer.text and 'value="5.4"' in answer.text
    assert "Nothing has been changed here" in pharmacist.get("/changes").text


def test_an_entry_as_it_is_makes_no_draft(pharmacist: TestClient, form: OpenForm) -> None:
    answer = sent(pharmacist, form(pharmacist))
    assert answer.status_code == 422
    assert "nothing differs from what is in force" in answer.text


def test_htmx_gets_what_stands_beside_and_every_message(
    pharmacist: TestClient, form: OpenForm
) -> None:
    typed = {**form(pharmacist), "composition_mmol_l.potassium": "40", "ph.low": "x", "do": ""}
    answer = pharmacist.post(EDIT, data=typed, headers=HTMX)
    assert answer.status_code == 200
    assert "<html" not in answer.text
    assert "Potassium 40 mmol/L: has the point slipped?" in answer.text
    assert 'id="error-ph-low" hx-swap-oob="true">“x” is not accepted' in answer.text
    assert 'id="meq-composition_mmol_l-potassium" hx-swap-oob="true">40 mEq/L' in answer.text


def test_a_label_fills_the_form_and_the_rest_stays(pharmacist: TestClient) -> None:
    text = "Na 130, K 5.4, Ca 2.7, Cl 110.4, lactate 28 mEq/L"
    html = sent(pharmacist, {"label": text, "do": "label"}).text
    assert "5 figures taken from the label" in html
    assert 'name="composition_mmol_l.potassium"' in html and 'value="5.4"' in html
    assert 'value="1.35"' in html and 'value="273"' in html
    assert "What was read of the label agrees with what is typed" in html


def test_a_label_of_nothing_changes_nothing_that_was_typed(
    pharmacist: TestClient, form: OpenForm
) -> None:
    typed = {**form(pharmacist, POTASSIUM), "label": "shake well", "do": "label"}
    html = sent(pharmacist, typed).text
    assert "No figure was read in it" in html
    assert 'value="5.4"' in html and "shake well" in html


def test_a_new_fluid_is_drafted_and_counts_once_it_is_approved(
    pharmacist: TestClient, colleague: TestClient
) -> None:
    html = pharmacist.get("/catalogue/new").text
    assert "Nothing is written yet" in html
    begun = unescape(hidden(html, "based_on"))
    number = number_of(sent(pharmacist, {**NEW, "based_on": begun}, "/catalogue/new"))
    assert pharmacist.get("/catalogue/saline-of-here").status_code == 404
    assert pharmacist.get("/catalogue/saline-of-here/edit").status_code == 200
    decide(colleague, number, "approve", reason="not replayed, it is new")
    assert "of here" in pharmacist.get("/catalogue/saline-of-here").text


@pytest.mark.parametrize(
    ("field", "written", "told"),
    [
        ("id", "", "small letters, digits and hyphens"),
        ("id", "Saline Here", "small letters, digits and hyphens"),
        ("id", "new", "small letters, digits and hyphens"),
        ("id", "../etc", "small letters, digits and hyphens"),
        ("id", "lactated-ringers", "a key that no fluid has"),
        ("kind", "", "crystalloid, colloid"),
        ("source.0.work", "", "the label, paper or book"),
    ],
)
def test_a_new_fluid_that_is_not_accepted_keeps_what_was_typed(
    pharmacist: TestClient, field: str, written: str, told: str
) -> None:
    begun = unescape(hidden(pharmacist.get("/catalogue/new").text, "based_on"))
    answer = sent(
        pharmacist,
        {**NEW, "based_on": begun, "source.0.place": "p. 2", field: written},
        "/catalogue/new",
    )
    assert answer.status_code == 422
    assert told in answer.text
    assert 'value="154"' in answer.text and 'value="p. 2"' in answer.text


def late(pharmacist: TestClient, colleague: TestClient, form: OpenForm, **mine: str) -> Form:
    """The colleague's form, as told that the pharmacist was faster."""
    named = {name.replace("__", "."): text for name, text in mine.items()}
    typed = form(colleague, {"energy_kcal_l": "10", "note": "note of the second", **named})
    number_of(sent(pharmacist, form(pharmacist, POTASSIUM)))
    answer = sent(colleague, typed)
    assert answer.status_code == 409
    assert "Somebody was at the same entry while you wrote" in answer.text
    assert "note of the second" in answer.text and 'value="10"' in answer.text
    assert "5.4" in answer.text and "Test pharmacist" in answer.text
    offered = re.findall(r'name="(was\.[^"]+)" value="([^"]*)"', answer.text)
    taken = re.findall(r'name="(take\.[^"]+)" value="(\w+)" checked', answer.text)
    told = {name: unescape(text) for name, text in (*offered, *taken)}
    return {**typed, **told, "based_on": unescape(hidden(answer.text, "based_on"))}


def test_the_second_of_two_takes_over_what_the_first_changed_and_keeps_their_own(
    pharmacist: TestClient, colleague: TestClient, form: OpenForm
) -> None:
    second = late(pharmacist, colleague, form)
    assert second["take.1.composition_mmol_l.potassium"] == "theirs"
    change = colleague.get(f"/changes/{number_of(sent(colleague, second))}").text
    for figure in ("<b>5.4</b>", "<b>110.4</b>", "<b>10</b>", "note of the second"):
        assert figure in change


def test_the_second_of_two_keeps_their_own_where_they_say_so(
    pharmacist: TestClient, colleague: TestClient, form: OpenForm
) -> None:
    second = late(pharmacist, colleague, form)
    kept = {name: "mine" if name.startswith("take.") else text for name, text in second.items()}
    change = colleague.get(f"/changes/{number_of(sent(colleague, kept))}").text
    assert "<b>5.4</b>" not in change.split("Others have drafted")[0]
    assert "<b>10</b>" in change


def test_what_is_taken_over_may_be_looked_at_before_it_is_kept(
    pharmacist: TestClient, colleague: TestClient, form: OpenForm
) -> None:
    second = {**late(pharmacist, colleague, form), "do": "take"}
    html = sent(colleague, second).text
    assert "Taken over: what was chosen stands in the form now" in html
    assert 'value="5.4"' in html and 'value="10"' in html
    assert "Drafted already" in html


def test_what_came_to_count_meanwhile_is_told_and_may_be_taken_over(
    pharmacist: TestClient, colleague: TestClient, form: OpenForm
) -> None:
    typed = form(colleague, {"note": "note of the second"})
    number = number_of(sent(pharmacist, form(pharmacist, POTASSIUM)))
    decide(colleague, number, "approve", reason="not replayed, seen on the bag")
    answer = sent(colleague, typed)
    assert answer.status_code == 409
    assert "This came to count meanwhile" in answer.text
    took = {name: "theirs" for name in re.findall(r'name="(take\.[^"]+)"', answer.text)}
    was = re.findall(r'name="(was\.[^"]+)" value="([^"]*)"', answer.text)
    begun = unescape(hidden(answer.text, "based_on"))
    again = {**typed, **took, **{n: unescape(t) for n, t in was}, "based_on": begun}
    change = colleague.get(f"/changes/{number_of(sent(colleague, again))}").text
    assert "note of the second" in change
    assert "potassium" not in change


def test_a_draft_sent_back_is_written_anew_with_all_it_said(
    pharmacist: TestClient, colleague: TestClient, form: OpenForm
) -> None:
    number = number_of(sent(pharmacist, form(pharmacist, POTASSIUM)))
    decide(colleague, number, "send-back", reason="say which bag")
    html = pharmacist.get(f"{EDIT}?revises={number}").text
    assert 'value="5.4"' in html and "new label" in html
    assert f'name="revises" value="{number}"' in html


def removal(client: TestClient, **more: str) -> Form:
    begun = unescape(hidden(client.get(EDIT).text, "based_on"))
    return {
        "reason": "no longer bought", "review_on": IN_A_YEAR, "based_on": begun, "do": "remove",
        **more,
    }  # fmt: skip


def test_a_fluid_leaves_the_catalogue_once_two_people_say_so_and_may_be_written_anew(
    pharmacist: TestClient, colleague: TestClient
) -> None:
    number = number_of(sent(pharmacist, removal(pharmacist)))
    assert pharmacist.get("/catalogue/lactated-ringers").status_code == 200
    decide(colleague, number, "approve", reason="not replayed, none is left")
    assert colleague.get("/catalogue/lactated-ringers").status_code == 404
    assert "no longer bought" in colleague.get("/catalogue/lactated-ringers/history").text
    assert colleague.get(EDIT).status_code == 200


def test_a_removal_without_a_reason_is_not_kept(pharmacist: TestClient) -> None:
    answer = sent(pharmacist, removal(pharmacist, reason=" "))
    assert answer.status_code == 422
    assert "why it is changed" in answer.text and 'value="1.35"' in answer.text


def test_a_removal_begun_before_somebody_s_draft_is_not_kept(
    pharmacist: TestClient, colleague: TestClient, form: OpenForm
) -> None:
    leaving = removal(colleague)
    number_of(sent(pharmacist, form(pharmacist, POTASSIUM)))
    answer = sent(colleague, leaving)
    assert answer.status_code == 409
    assert "somebody changed this entry" in answer.text
    assert "Drafted already" in answer.text and "no longer bought" in answer.text


def test_the_card_and_the_list_lead_who_may_draft_to_the_form(pharmacist: TestClient) -> None:
    card = pharmacist.get("/catalogue/lactated-ringers").text
    assert f'href="{EDIT}"' in card and "/catalogue/lactated-ringers/label" in card
    assert 'href="/catalogue/new"' in pharmacist.get("/catalogue").text


def test_a_book_and_markup_are_text_of_at_most_their_length(pharmacist: TestClient) -> None:
    typed = {"name": "<script>alert(1)</script>", "note": "x" * 50_000, "do": "check"}
    html = sent(pharmacist, typed).text
    assert "<script>alert(1)" not in html
    assert "x" * 2000 in html and "x" * 2001 not in html
