"""What the table of pairs keeps apart among names as people write them."""

import pytest

from app.catalogue.pairs.answer import PairBook
from app.intake.fluids import name_book
from app.lines.model import KeepApart
from app.review.knowledge import Knowledge
from app.review.lines.pairs import from_facts, plan_with_facts
from app.review.lines.planned import KeepApartOf, plan_lines
from app.review.pairs.apart import AGE_NOT_TOLD, NOBODY_TOLD
from tests.unit.review.lines.shift import changed


@pytest.fixture(scope="module")
def table() -> KeepApartOf:
    knowledge = Knowledge.from_seed()
    names = name_book(knowledge.catalogue, knowledge.vocabulary)
    return from_facts(names, PairBook(knowledge.pairs))


def why(table: KeepApartOf, one: str, other: str) -> str | None:
    found = {rule.pair: rule.why for rule in table({"a": one, "b": other})}
    return found.get(("a", "b"))


def test_calcium_is_kept_apart_from_ceftriaxone_and_from_blood(table: KeepApartOf) -> None:
    for calcium in ("lactated Ringer's 100 mL/h", "Hartmann's", "calcium gluconate"):
        for other in ("ceftriaxone 2 g over 30 min", "red cells"):
            found = why(table, calcium, other)
            assert found, (calcium, other)
            assert found != NOBODY_TOLD


def test_what_harms_a_newborn_by_any_line_says_so_for_the_age_is_not_asked(
    table: KeepApartOf,
) -> None:
    assert (why(table, "ceftriaxone 2 g", "Hartmann's") or "").endswith(AGE_NOT_TOLD)
    assert AGE_NOT_TOLD not in (why(table, "red cells", "Hartmann's") or "")


def test_salt_solution_may_run_beside_blood(table: KeepApartOf) -> None:
    assert why(table, "0.9% sodium chloride", "red cells") is None


def test_what_is_not_understood_is_kept_apart_from_everything(table: KeepApartOf) -> None:
    assert "is not understood" in (why(table, "the blue one", "0.9% sodium chloride") or "")


def test_two_of_one_substance_may_share_a_lumen(table: KeepApartOf) -> None:
    assert why(table, "vancomycin 1 g", "vancomycin") is None


def test_a_pair_that_the_table_lacks_is_kept_apart_and_said_to_have_no_data(
    table: KeepApartOf,
) -> None:
    assert why(table, "levosimendan", "caspofungin") == NOBODY_TOLD


def test_the_pairs_of_the_interface_page_come_from_the_table_when_asked_for(
    table: KeepApartOf,
) -> None:
    request = changed("use_catalogue", True) | {"keep_apart": []}
    found = plan_lines(request, keep_apart_of=table)
    pairs = {frozenset(rule.pair) for rule in found.problem.keep_apart}
    assert {frozenset({"lr", "cef"}), frozenset({"lr", "rbc"})} <= pairs
    assert all(isinstance(rule, KeepApart) and rule.why for rule in found.problem.keep_apart)


def test_a_plan_that_joins_two_by_a_word_from_memory_says_so() -> None:
    knowledge = Knowledge.from_seed()
    names, book = name_book(knowledge.catalogue, knowledge.vocabulary), PairBook(knowledge.pairs)
    running = {"kind": "continuous", "duration_min": None}
    request = {
        "horizon_min": 60, "step_min": 5, "lumens": [{"id": "c1", "site": "central"}],
        "infusions": [
            {"id": "n", "name": "norepinephrine", **running},
            {"id": "v", "name": "vasopressin", **running},
        ],
        "keep_apart": [], "use_catalogue": True,
    }  # fmt: skip
    made = plan_with_facts(request, names, book)
    assert [note.text for note in made.notes if "Confirm with pharmacy" in note.text] == [
        "Confirm with pharmacy first, for it is from memory that they may share a lumen: "
        "norepinephrine beside vasopressin."
    ]
    alone = plan_with_facts({**request, "use_catalogue": False}, names, book)
    assert not any("Confirm" in note.text for note in alone.notes)
