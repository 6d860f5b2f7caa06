"""On whose word a plan lets two share a lumen."""

from app.catalogue.pairs.answer import PairBook
from app.lines.model import Placement, Plan, Run
from app.review.lines.leaning import leaning_of
from tests.unit.review.pairs.conftest import ThingOf, signed, with_notes

WHOLE = (0, 480)


def plan(**where: tuple[str, tuple[int, int]]) -> Plan:
    """Each infusion's lumen and when it runs, by name."""
    placed = (Placement(name, lumen, (Run(*run),)) for name, (lumen, run) in where.items())
    return Plan(tuple(placed), 0, 0, 0)


def said(book: PairBook, thing: ThingOf, made: Plan) -> tuple[str, ...]:
    things = {p.infusion_id: thing(p.infusion_id.replace("_", " ")) for p in made.placements}
    return leaning_of(made, things, book)


def test_a_pair_from_memory_on_one_lumen_asks_for_pharmacy(book: PairBook, thing: ThingOf) -> None:
    made = plan(norepinephrine=("c1", WHOLE), vasopressin=("c1", WHOLE), insulin=("c1", WHOLE))
    (line,) = said(book, thing, made)
    assert line.startswith("Confirm with pharmacy first, for it is from memory")
    assert "norepinephrine beside vasopressin; " in line
    assert "vasopressin beside insulin" in line
    assert "norepinephrine beside insulin" not in line, "that one is kept apart, not joined"


def test_on_other_lumens_or_at_other_times_they_do_not_meet(book: PairBook, thing: ThingOf) -> None:
    apart = plan(norepinephrine=("c1", WHOLE), vasopressin=("c2", WHOLE))
    in_turn = plan(norepinephrine=("c1", (0, 60)), vasopressin=("c1", (60, 480)))
    assert said(book, thing, apart) == said(book, thing, in_turn) == ()


def test_what_was_seen_needs_no_word_and_practice_says_so(book: PairBook, thing: ThingOf) -> None:
    made = plan(esmolol=("c1", WHOLE), saline=("c1", WHOLE))
    assert said(book, thing, made) == ()
    made = plan(LR=("c1", WHOLE), saline=("c1", WHOLE))
    (line,) = said(book, thing, made)
    assert line.startswith("Confirm with pharmacy first, for they share a lumen by practice")


def test_a_note_is_told_with_who_and_when(book: PairBook, thing: ThingOf) -> None:
    noted = with_notes(book, signed("meropenem", "furosemide"))
    made = plan(meropenem=("c1", WHOLE), furosemide=("c1", WHOLE))
    assert said(noted, thing, made) == (
        "Meropenem beside furosemide: may run together (local note by R. Almeida, pharmacist, of "
        "1 March 2031): by Y-site, usual strengths.",
    )


def test_two_doses_of_one_drug_are_no_pair_and_a_pair_is_told_once(
    book: PairBook, thing: ThingOf
) -> None:
    made = plan(a=("c1", (0, 30)), b=("c1", (20, 60)), c=("c1", WHOLE))
    vasopressin = thing("vasopressin")
    things = {"a": vasopressin, "b": vasopressin, "c": thing("norepinephrine")}
    (line,) = leaning_of(made, things, book)
    assert line.count("beside") == 1
