"""Plans worked out by hand, each with its reasoning: the solver finds these and no others."""

from dataclasses import replace

from app.lines.check import faults
from app.lines.clash import with_clash
from app.lines.model import KeepApart, Lumen, Plan, Problem, Solution
from app.lines.solve import solve
from tests.unit.lines.build import C1, C2, P1, P2, cost, dose, problem, running, runs, where


def plan_of(asked: Problem) -> Plan:
    """The proven best plan, which passes the check."""
    found = solve(asked)
    assert found.plan is not None
    assert found.proven_optimal
    assert not faults(asked, found.plan)
    return found.plan


def short_of(asked: Problem) -> Solution:
    """What is found where the lumens given do not suffice."""
    found = with_clash(asked, solve(asked))
    assert not found.feasible
    assert found.clash_proven
    return found


def test_blood_and_a_calcium_fluid_on_one_cannula() -> None:
    # The fluid stops once for as long as the blood takes; sooner or later costs the same, so the
    # blood comes at once.
    asked = problem(
        (P1,), running("lactated Ringer's", pauses=240), dose("red cells", 180, kind="blood"),
        apart="",
        keep_apart=(KeepApart(("lactated Ringer's", "red cells")),),
    )  # fmt: skip
    plan = plan_of(asked)
    assert cost(plan) == (0, 1, 180)
    assert runs(plan, "red cells") == [(0, 180)]
    assert runs(plan, "lactated Ringer's") == [(180, 720)]


def test_blood_and_a_calcium_fluid_with_a_second_cannula_never_meet() -> None:
    plan = plan_of(
        problem((P1, P2), running("csl", pauses=True), dose("blood", 180), apart="csl blood")
    )
    assert cost(plan) == (0, 0, 0)
    assert where(plan) == {"csl": "p1", "blood": "p2"}


def test_ceftriaxone_and_a_calcium_fluid_in_turn_with_a_flush_each_way() -> None:
    # 30 min of ceftriaxone and 5 min of flush before and after: 40 min, unless it starts at 0,
    # where nothing runs before it. Its window begins at 60, so 40.
    asked = problem(
        (P1,), running("lr", pauses=True), dose("cef", 30, 60, 240), apart="lr cef", flush_min=5
    )
    plan = plan_of(asked)
    assert cost(plan) == (0, 1, 40)
    assert runs(plan, "lr") == [(0, 55), (95, 720)]
    assert runs(plan, "cef") == [(60, 90)]


def test_a_vasoactive_drug_keeps_the_lumen_that_is_kept_for_it() -> None:
    # The reserved lumen takes nothing else, so both others share the cannula.
    kept = Lumen("c1", "central", "vasoactive")
    asked = problem(
        (kept, P1),
        running("norepinephrine", role="vasoactive", needs_central=True),
        running("saline"),
        dose("paracetamol", 15),
        apart="norepinephrine paracetamol",
    )
    plan = plan_of(asked)
    assert where(plan) == {"norepinephrine": "c1", "saline": "p1", "paracetamol": "p1"}
    assert cost(plan) == (0, 0, 0)


def test_nothing_else_takes_a_reserved_lumen_even_if_a_cannula_must_be_placed() -> None:
    kept = Lumen("c1", "central", "nutrition")
    found = short_of(problem((kept, P1), running("a"), running("b"), apart="a b"))
    assert cost(found.plan) == (1, 0, 0)
    assert where(found.plan) == {"a": "p1", "b": "new1"}
    assert found.clash == ("a", "b")


def test_strong_potassium_has_no_place_without_a_central_lumen() -> None:
    found = short_of(problem((P1, P2), running("potassium", needs_central=True), running("saline")))
    assert found.plan is None
    assert found.proven_optimal
    assert found.clash == ("potassium",)


def test_strong_potassium_stops_the_other_fluid_on_the_only_central_lumen() -> None:
    # The other one needs central too, and may pause for the two hours of potassium.
    asked = problem(
        (P1, C1), running("nutrition", needs_central=True, pauses=120),
        dose("potassium", 120, 0, 720, needs_central=True), apart="nutrition potassium",
    )  # fmt: skip
    assert cost(plan_of(asked)) == (0, 1, 120)


def test_two_doses_share_one_pause() -> None:
    # They may run beside each other, so the pause is as long as the longer one: 60, not 90.
    asked = problem(
        (P1,), running("lr", pauses=True), dose("cef", 30, 0, 300), dose("blood", 60, 120, 240),
        apart="lr cef, lr blood",
    )  # fmt: skip
    plan = plan_of(asked)
    assert cost(plan) == (0, 1, 60)
    assert runs(plan, "lr") == [(0, 120), (180, 720)]


def test_two_doses_that_clash_share_one_pause_back_to_back() -> None:
    # Pauses that touch are one: 30 and 60 min in turn make one interruption of 90.
    asked = problem(
        (P1,), running("lr", pauses=True), dose("cef", 30, 0, 300), dose("blood", 60, 120, 240),
        apart="lr cef, lr blood, cef blood",
    )  # fmt: skip
    plan = plan_of(asked)
    assert cost(plan) == (0, 1, 90)


def test_doses_too_far_apart_cost_two_pauses() -> None:
    asked = problem(
        (P1,), running("lr", pauses=True), dose("a", 30, 0, 60), dose("b", 30, 300, 360),
        apart="lr a, lr b",
    )  # fmt: skip
    plan = plan_of(asked)
    assert cost(plan) == (0, 2, 60)
    assert runs(plan, "lr") == [(30, 300), (330, 720)]


def test_doses_are_moved_within_their_windows_until_their_pauses_touch() -> None:
    # a must end by 60, b may not start before: a from 0 to 30 would leave 30 min between, so a
    # runs from 30 to 60 and b from 60 to 90.
    asked = problem(
        (P1,), running("lr", pauses=True), dose("a", 30, 0, 60), dose("b", 30, 60, 360),
        apart="lr a, lr b",
    )  # fmt: skip
    plan = plan_of(asked)
    assert cost(plan) == (0, 1, 60)
    assert (runs(plan, "a"), runs(plan, "b")) == ([(30, 60)], [(60, 90)])


def test_fewer_interruptions_come_before_fewer_minutes() -> None:
    # a stops the fluid from 0 to 30 and c from 60 to 120. b inside a costs nothing and leaves two
    # pauses of 90 min in all; b between them makes it one of 120. One it is.
    asked = problem(
        (P1,), running("lr", pauses=True), dose("a", 30, 0, 30), dose("b", 30, 0, 90),
        dose("c", 60, 60, 120), apart="lr a, lr b, lr c",
    )  # fmt: skip
    plan = plan_of(asked)
    assert cost(plan) == (0, 1, 120)
    assert runs(plan, "b") == [(30, 60)]


def test_two_fluids_that_stop_for_one_dose_are_two_interruptions() -> None:
    asked = problem(
        (P1,), running("lr", pauses=True), running("x", pauses=True), dose("a", 100),
        apart="lr a, x a",
    )  # fmt: skip
    assert cost(plan_of(asked)) == (0, 2, 200)


def test_a_pause_longer_than_allowed_needs_a_cannula() -> None:
    asked = problem((P1,), running("lr", pauses=60), dose("blood", 90), apart="lr blood")
    found = short_of(asked)
    assert cost(found.plan) == (1, 0, 0)
    assert found.clash == ("lr", "blood")


def test_a_pause_exactly_as_long_as_allowed_is_enough() -> None:
    asked = problem((P1,), running("lr", pauses=90), dose("blood", 90), apart="lr blood")
    assert cost(plan_of(asked)) == (0, 1, 90)


def test_a_pair_barred_for_the_patient_has_no_plan_however_many_lumens() -> None:
    pair = KeepApart(("cef", "calcium"), "patient", "newborn")
    asked = problem((P1, P2, C1), dose("cef", 30), running("calcium"), keep_apart=(pair,))
    found = short_of(asked)
    assert found.plan is None
    assert found.barred == ("cef", "calcium")
    assert found.proven_optimal


def test_with_no_lumen_at_all_the_first_cannula_carries_what_may_meet() -> None:
    found = short_of(problem((), running("saline"), dose("paracetamol", 15)))
    assert cost(found.plan) == (1, 0, 0)
    assert where(found.plan) == {"saline": "new1", "paracetamol": "new1"}


def test_blood_shares_with_the_saline_it_names_and_with_nothing_else() -> None:
    # Saline runs on beside the blood; the glucose fluid, which blood does not name, stops.
    blood = dose("blood", 120, exclusive=True, may_share_with_exclusive=frozenset({"saline"}))
    plan = plan_of(problem((P1,), running("saline"), running("glucose", pauses=True), blood))
    assert cost(plan) == (0, 1, 120)
    assert runs(plan, "saline") == [(0, 720)]


def test_being_named_does_not_undo_being_kept_apart() -> None:
    blood = dose("blood", 120, exclusive=True, may_share_with_exclusive=frozenset({"lr"}))
    asked = problem((P1,), running("lr", pauses=True), blood, apart="lr blood")
    assert cost(plan_of(asked)) == (0, 1, 120)


def test_of_two_exclusive_both_must_name_the_other() -> None:
    one = running("nutrition", exclusive=True, may_share_with_exclusive=frozenset({"lipid"}))
    other = running("lipid", exclusive=True)
    assert cost(short_of(problem((C1,), one, other)).plan) == (1, 0, 0)
    both = replace(other, may_share_with_exclusive=frozenset({"nutrition"}))
    assert cost(plan_of(problem((C1,), one, both))) == (0, 0, 0)


def test_an_exclusive_fluid_stops_for_a_dose_that_it_does_not_name() -> None:
    asked = problem((C1,), running("nutrition", exclusive=True, pauses=True), dose("cef", 30))
    assert cost(plan_of(asked)) == (0, 1, 30)


def test_two_that_run_all_the_time_and_clash_need_two_lumens_though_both_may_pause() -> None:
    asked = problem((P1,), running("a", pauses=True), running("b", pauses=True), apart="a b")
    found = short_of(asked)
    assert cost(found.plan) == (1, 0, 0)


def test_do_not_interrupt_means_a_new_cannula_rather_than_a_pause() -> None:
    asked = problem((P1,), running("insulin"), dose("cef", 30), apart="insulin cef")
    found = short_of(asked)
    assert cost(found.plan) == (1, 0, 0)
    assert runs(found.plan, "insulin") == [(0, 720)]


def test_three_new_cannulas_are_tried_and_no_more() -> None:
    names = [f"i{at}" for at in range(5)]
    apart = ", ".join(f"{a} {b}" for a in names for b in names if a < b)
    four = problem((P1,), *(running(name) for name in names[:4]), apart=_among(apart, names[:4]))
    assert cost(solve(four).plan) == (3, 0, 0)
    five = problem((P1,), *(running(name) for name in names), apart=apart)
    assert solve(five).plan is None


def _among(apart: str, names: list[str]) -> str:
    pairs = (pair.split() for pair in apart.split(", "))
    return ", ".join(" ".join(pair) for pair in pairs if set(pair) <= set(names))


def test_the_shift_of_the_interface_page_needs_all_of_the_pause_it_allows() -> None:
    # Ceftriaxone 60 min from 120 on, red cells 180 min at any time, exclusive: back to back they
    # make one pause of 240, as long as the fluid may stand still.
    asked = problem(
        (P1,), running("lr", pauses=240), dose("cef", 60, 120, 480),
        dose("rbc", 180, 0, 720, exclusive=True, kind="blood"), apart="lr cef",
    )  # fmt: skip
    plan = plan_of(asked)
    assert cost(plan) == (0, 1, 240)


def test_a_dose_between_two_others_of_the_same_pause_adds_nothing() -> None:
    # a 0 to 60 and c 60 to 120 are fixed; b, 20 min, fits inside and costs no minute.
    asked = problem(
        (P1,), running("lr", pauses=True), dose("a", 60, 0, 60), dose("b", 20, 0, 720),
        dose("c", 60, 60, 120), apart="lr a, lr b, lr c",
    )  # fmt: skip
    assert cost(plan_of(asked)) == (0, 1, 120)


def test_what_runs_now_stays_where_it_is() -> None:
    asked = problem((P1, P2), running("a", stays_on="p2"), running("b", stays_on="p1"))
    assert where(plan_of(asked)) == {"a": "p2", "b": "p1"}


def test_what_runs_now_moves_rather_than_be_interrupted() -> None:
    # Staying would stop the fluid for the dose that needs its lumen; a move costs less.
    asked = problem(
        (P1, C1), running("lr", pauses=True, stays_on="c1"),
        dose("strong", 60, needs_central=True), apart="lr strong",
    )  # fmt: skip
    plan = plan_of(asked)
    assert where(plan) == {"lr": "p1", "strong": "c1"}
    assert cost(plan) == (0, 0, 0)


def test_when_a_lumen_fails_only_what_was_on_it_moves() -> None:
    asked = problem(
        (P1, C1), running("a", stays_on="c1"), running("b", stays_on="p2"),
        running("c", stays_on="p1"), apart="a b",
    )  # fmt: skip
    assert where(plan_of(asked)) == {"a": "c1", "b": "p1", "c": "p1"}


def test_doses_of_one_order_keep_to_one_lumen() -> None:
    # The second dose cannot meet x, which must run on c1; on p2 both can run.
    asked = problem(
        (C1, P2), running("x", needs_central=True), dose("first", 30, 0, 60, order_id="o"),
        dose("second", 30, 360, 420, order_id="o"), apart="x second",
    )  # fmt: skip
    plan = plan_of(asked)
    assert where(plan)["first"] == where(plan)["second"] == "p2"


def test_doses_of_one_order_part_when_that_spares_an_interruption() -> None:
    asked = problem(
        (P1, P2), running("x", pauses=True, stays_on="p1"), running("y", pauses=True),
        dose("first", 30, 0, 60, order_id="o"), dose("second", 30, 360, 420, order_id="o"),
        apart="x y, x second, y first",
    )  # fmt: skip
    plan = plan_of(asked)
    assert cost(plan) == (0, 0, 0)
    assert where(plan)["first"] != where(plan)["second"]


def test_what_is_carried_runs_on_the_lumen_of_its_carrier_and_stops_it_from_pausing() -> None:
    # The dose clashes with the carrier alone; the carried drug may not pause, so neither does.
    asked = problem(
        (C1, P1), running("carrier", pauses=True), running("vasoactive", beside="carrier"),
        dose("cef", 30), apart="carrier cef",
    )  # fmt: skip
    plan = plan_of(asked)
    assert where(plan) == {"carrier": "c1", "vasoactive": "c1", "cef": "p1"}
    alone = replace(asked, lumens=(C1,))
    assert cost(short_of(alone).plan) == (1, 0, 0)


def test_no_more_are_connected_to_a_lumen_than_it_has_room_for() -> None:
    asked = problem((P1, P2), running("a"), running("b"), running("c"), most_at_once=2)
    places = list(where(plan_of(asked)).values())
    assert sorted(places) == ["p1", "p1", "p2"]


def test_central_lumens_are_kept_for_what_needs_them_when_there_are_enough() -> None:
    asked = problem(
        (P1, C1, C2), running("plain"), running("k1", needs_central=True),
        running("k2", needs_central=True), apart="k1 k2, plain k1, plain k2",
    )  # fmt: skip
    plan = plan_of(asked)
    assert where(plan) == {"plain": "p1", "k1": "c1", "k2": "c2"}
