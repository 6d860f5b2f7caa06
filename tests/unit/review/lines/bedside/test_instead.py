"""Another fluid without the clash: parted from fewer, and reviewed in the order's place."""

from collections.abc import Mapping
from dataclasses import replace

from app.catalogue.stock.stock import Stock, StockState
from app.patient.case import Case
from app.review.lines.bedside.instead import replacements_of
from app.review.lines.bedside.problem import Means, bedside_of
from app.review.way_out import WaysOut

CLASH = ("o1", "co_infusions[0]")


def test_salt_solution_may_stand_in_for_a_calcium_fluid_beside_blood(
    demo: Mapping[str, Case], means: Means
) -> None:
    case = demo["09"]
    offered = replacements_of(case, means, bedside_of(case, means), CLASH)
    saline = next(one for one in offered if one.name == "0.9% sodium chloride")
    assert saline.infusion_id == "o1"
    assert saline.keep_apart == ()
    assert saline.beside_exclusive == {"co_infusions[0]"}


def test_nothing_is_offered_with_which_the_review_finds_more(
    demo: Mapping[str, Case], means: Means
) -> None:
    for bed, case in demo.items():
        bedside = bedside_of(case, means)
        everything = tuple(item.id for item in bedside.items)
        for one in replacements_of(case, means, bedside, everything):
            order = bedside.item(one.infusion_id).of
            fluid = next(f for f in means.catalogue if f.name == one.name)
            ways = WaysOut(order, case, means.catalogue, means.ruleset)  # type: ignore[arg-type]
            assert ways.brings_nothing(fluid), (bed, one.name)


def test_what_is_out_is_not_offered(demo: Mapping[str, Case], means: Means) -> None:
    case, since = demo["09"], demo["09"].now
    out = Stock({"sodium-chloride-0.9": StockState("out", since, "lorry late", "")}, 1)
    lacking = replace(means, stock=out)
    offered = replacements_of(case, lacking, bedside_of(case, lacking), CLASH)
    assert "0.9% sodium chloride" not in {one.name for one in offered}


def test_a_drug_has_no_other_fluid(demo: Mapping[str, Case], means: Means) -> None:
    case = demo["20"]
    bedside = bedside_of(case, means)
    assert replacements_of(case, means, bedside, ("co_infusions[0]", "co_infusions[1]")) == ()
