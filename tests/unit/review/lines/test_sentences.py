"""Why not, and what to do instead, as one reads it aloud."""

from dataclasses import replace

from app.lines.model import KeepApart
from app.lines.ways import Replacement
from app.review.lines.planned import LinePlan, plan_lines, planned
from app.review.lines.sentences import change_text, effect_text, why_not
from tests.unit.review.lines.shift import BARRED, NO_CENTRAL, TIGHT, changed, plan


def ways(found: LinePlan) -> list[str]:
    return [f"{change_text(found.problem, way)}. {effect_text(way)}." for way in found.ways]


def test_what_clashes_is_named_by_name_with_the_lumens_there_are() -> None:
    assert why_not(plan(TIGHT)) == (
        "Lactated Ringer's 100 mL/h, ceftriaxone and red cells cannot all run on the one lumen "
        "given; without any one of them the others can."
    )


def test_the_reason_of_a_pair_is_told() -> None:
    request = changed("infusions.0.may_pause", False)
    request["keep_apart"][0]["why"] = "ceftriaxone and calcium form crystals."
    said = why_not(plan(request))
    assert said.startswith("Lactated Ringer's 100 mL/h and ceftriaxone cannot both run")
    assert "with ceftriaxone: ceftriaxone and calcium form crystals." in said


def test_a_pair_barred_for_the_patient_says_so_and_offers_no_cannula() -> None:
    found = plan(BARRED)
    assert why_not(found) == (
        "Lactated Ringer's 100 mL/h and ceftriaxone must not both be given to this patient, "
        "whatever the line or the hour. No line plan can be right."
    )
    assert found.ways
    assert not any("cannula" in way.split(".")[0] for way in ways(found))


def test_what_needs_central_and_has_none_is_told_so_and_central_access_is_offered() -> None:
    found = plan(NO_CENTRAL)
    assert why_not(found) == (
        "Ceftriaxone has no place: it needs a central lumen and there is none. New peripheral "
        "cannulas do not change that."
    )
    assert any(way.startswith("Ask for central access.") for way in ways(found))


def test_a_central_lumen_kept_for_something_else_is_not_free() -> None:
    request = changed("infusions.1.needs_central", True)
    request["lumens"].append({"id": "c1", "site": "central", "role": "nutrition"})
    assert "it needs a central lumen and none is free for it" in why_not(plan(request))


def test_ways_out_are_sentences_with_their_effect() -> None:
    said = ways(plan(TIGHT))
    assert said[0] == (
        "Place one more peripheral cannula. Everything then runs; nothing is interrupted."
    )
    assert said[1] == (
        "Let lactated Ringer's 100 mL/h stand still for 240 min: ask the prescriber. "
        "Everything then runs; 1 interruption, 240 min in all."
    )
    assert said[-1].endswith("The rest then runs; 1 interruption, 180 min in all.")


def test_a_dose_to_be_moved_says_which_way_and_by_how_much() -> None:
    request = changed("infusions.2", {
        "id": "van", "name": "vancomycin", "kind": "intermittent", "duration_min": 60,
        "earliest_start_min": 100, "latest_end_min": 170,
    })  # fmt: skip
    request["infusions"][1] |= {"earliest_start_min": 110, "latest_end_min": 170}
    request["keep_apart"].append({"pair": ["cef", "van"]})
    said = " ".join(ways(plan(request)))
    assert "Give vancomycin 50 min earlier than its window begins: ask the prescriber." in said
    assert "Give ceftriaxone 50 min later than its window ends: ask the prescriber." in said


def test_where_a_cannula_frees_the_clash_but_three_not_everything_that_is_said() -> None:
    names = [f"fluid {at}" for at in range(5)]
    request = {
        "lumens": [{"id": "p1", "site": "peripheral"}],
        "infusions": [{"id": name, "kind": "continuous"} for name in names],
        "keep_apart": [{"pair": [a, b]} for a in names for b in names if a < b],
    }
    found = plan(request)
    assert why_not(found).endswith(
        "Even 3 new peripheral cannulas do not carry everything: fluid 0, fluid 1, fluid 2, "
        "fluid 3 and fluid 4 cannot all run."
    )
    unknown = replace(found, solution=replace(found.solution, beyond=()))
    assert why_not(unknown).endswith("Even 3 new peripheral cannulas do not carry everything.")


def test_central_access_says_how_many_lumens_where_one_is_too_few() -> None:
    request = changed("infusions.1.needs_central", True)
    assert "Ask for central access. " in " ".join(ways(plan(request)))
    request["infusions"][2] |= {"needs_central": True, "duration_min": 720}
    assert "Ask for central access with 2 lumens. " in " ".join(ways(plan(request)))


def test_a_replacement_and_a_cannula_still_needed_are_said() -> None:
    problem = plan(TIGHT).problem
    found = planned(problem, instead_of=lambda _: (Replacement("lr", "0.9% sodium chloride"),))
    assert any(
        way.startswith("Give 0.9% sodium chloride instead of lactated Ringer's 100 mL/h: ")
        for way in ways(found)
    )


def test_no_data_is_a_reason_like_any_other() -> None:
    request = changed("infusions.0.may_pause", False) | {"use_catalogue": True, "keep_apart": []}
    table = (KeepApart(("lr", "cef"), "lumen", "no data on the two in one lumen"),)
    found = plan_lines(request, keep_apart_of=lambda names: table)
    assert "ceftriaxone: no data on the two in one lumen." in why_not(found)


def test_a_plan_held_back_says_what_was_wrong_with_it() -> None:
    found = LinePlan(plan().problem, plan(BARRED).solution, withheld=("cef runs twice",))
    assert (
        why_not(found) == "A plan was found and is not shown, for it did not pass: cef runs twice."
    )


def test_out_of_time_nothing_is_claimed() -> None:
    found = plan(TIGHT)
    unknown = replace(found.solution, plan=None, clash=(), proven_optimal=False)
    said = why_not(replace(found, solution=unknown))
    assert "has not been proven" in said
    unproven = replace(found.solution, clash_proven=False)
    assert "not narrowed down" in why_not(replace(found, solution=unproven))
