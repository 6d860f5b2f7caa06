"""Two people at one entry: each field of the other is taken over, or not, and none is lost."""

from datetime import date, timedelta

from app.catalogue.changes.change import Change, FluidEntry, Signature
from app.catalogue.changes.history import Filed, History
from app.review.changes.meanwhile import Meanwhile
from app.review.knowledge import Past, shipped
from app.web.fluids.edit.late import others_of, taken_over, texts_of, their_entries
from app.web.fluids.edit.reading import read_typed
from app.web.fluids.edit.typed import typed_from
from tests.unit.web.fluids.edit.conftest import NOW, Form

KEY = "lactated-ringers"
SUBJECT = f"fluid:{KEY}"
POTASSIUM, NOTE = "composition_mmol_l.potassium", "note"


def document(entry: Form, **changed: str) -> dict[str, object]:
    named = {name.replace("__", "."): text for name, text in changed.items()}
    return dict(read_typed({**entry, **named}, KEY).document)


def drafted(content: dict[str, object] | None, number: int = 7) -> Filed:
    by = Signature("a-1", "J. Birch", True, NOW)
    return Filed(Change(FluidEntry(KEY, content), "new bag", NOW, date.max, by, "", number))


def past(*filed: Filed) -> Past:
    return Past((), History(filed), shipped())


def test_a_field_that_only_they_changed_is_proposed_as_theirs(entry: Form) -> None:
    one = drafted(document(entry, composition_mmol_l__potassium="5"))
    late = Meanwhile((), ((one, ()),), "")
    mine = document(entry, note="mine")
    (other,) = others_of(late, past(one), SUBJECT, mine, (NOW, NOW))
    assert (other.number, other.reason, other.gone) == (7, "new bag", False)
    told = {choice.name: choice for choice in other.choices}
    potassium = told[f"take.7.{POTASSIUM}"]
    assert (potassium.mine, potassium.theirs) == ("4", "5")
    assert "J. Birch" in other.title


def test_both_at_one_field_keeps_mine_until_i_choose(entry: Form) -> None:
    base = drafted(document(entry), 1)
    one = drafted(document(entry, composition_mmol_l__potassium="5"))
    began = Meanwhile((), ((one, ()),), "")
    mine = document(entry, composition_mmol_l__potassium="6")
    (other,) = others_of(began, past(base, one), SUBJECT, mine, (NOW, NOW))
    (choice,) = [one for one in other.choices if one.name.endswith(POTASSIUM)]
    assert choice.takes == "mine"
    assert choice.was == f"was.7.{POTASSIUM}"


def test_what_is_chosen_is_taken_and_the_rest_stays(entry: Form) -> None:
    theirs = document(entry, composition_mmol_l__potassium="5", note="their note")
    typed = {
        **entry, POTASSIUM: "6", f"take.7.{POTASSIUM}": "theirs", f"was.7.{POTASSIUM}": "6",
        "take.7.note": "mine", "was.7.note": entry[NOTE],
    }  # fmt: skip
    mine = dict(read_typed(typed, KEY).document)
    taken = taken_over(typed, mine, {"7": theirs})
    assert taken[POTASSIUM] == "5"
    assert taken[NOTE] == entry[NOTE]
    assert not [name for name in taken if name.startswith(("take.", "was."))]


def test_a_field_typed_anew_after_the_choice_was_offered_stays(entry: Form) -> None:
    theirs = document(entry, composition_mmol_l__potassium="5")
    typed = {
        **entry, POTASSIUM: "4.5", f"take.7.{POTASSIUM}": "theirs", f"was.7.{POTASSIUM}": "4",
    }  # fmt: skip
    mine = dict(read_typed(typed, KEY).document)
    assert taken_over(typed, mine, {"7": theirs})[POTASSIUM] == "4.5"


def test_a_field_that_they_emptied_is_emptied(entry: Form) -> None:
    theirs = document(entry, note="")
    typed = {**entry, "take.7.note": "theirs", "was.7.note": entry[NOTE]}
    assert NOTE not in taken_over(typed, dict(read_typed(typed, KEY).document), {"7": theirs})


def test_sources_are_taken_over_as_one(entry: Form) -> None:
    theirs = document(entry, source__1__work="", source__1__note="", source__1__covers="")
    mine = document(entry)
    typed = {**entry, "take.7.source": "theirs", "was.7.source": texts_of(mine)["source"]}
    taken = taken_over(typed, mine, {"7": theirs})
    assert typed_from(theirs).items() <= taken.items()
    assert "source.1.work" not in taken


def test_only_a_draft_of_the_same_fluid_is_taken_from(entry: Form) -> None:
    typed = {f"take.{key}.note": "theirs" for key in ("7", "8", "x", "9" * 5000)}
    found = their_entries(typed, past(drafted(document(entry))), SUBJECT, NOW + timedelta(hours=1))
    assert set(found) == {"7"}
    assert their_entries(typed, past(drafted(document(entry))), "fluid:other", NOW) == {}


def test_a_fluid_taken_out_meanwhile_is_said(entry: Form) -> None:
    gone = drafted(None)
    late = Meanwhile((), ((gone, ()),), "")
    (other,) = others_of(late, past(gone), SUBJECT, document(entry), (NOW, NOW))
    assert other.gone
    assert other.choices == ()
