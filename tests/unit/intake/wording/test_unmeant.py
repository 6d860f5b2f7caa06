"""What an order's words say of things that are not in its bag."""

import pytest

from app.intake.wording.unmeant import by_tube, meant


@pytest.mark.parametrize(
    "written",
    [
        "NS 1 L, no potassium", "NS without potassium 1 L", "K-free NS 1 L", "NS 1 L no KCl added",
        "NS 1 L (hold KCl)", "NS 1 L, KCl discontinued", "NS 1 L. Previously KCl 40 mmol",
        "NS 1 L, target K 4-5", "NS 1 L, K 3.1 this morning", "NS 1 L; add KCl if K below 3.5",
        "stop KCl, start NS 1 L", "NS 1 L instead of NS with KCl", "change NS with KCl to NS 1 L",
    ],
)  # fmt: skip
def test_potassium_denied_past_or_measured_is_not_in_the_bag(written: str) -> None:
    left = meant(written).lower().split()
    assert "ns" in left and "1" in left
    assert not {"kcl", "k", "potassium"} & set(left)


@pytest.mark.parametrize(
    ("written", "stays"),
    [
        ("0.9% saline 100 mL/h, not Hartmann's", "saline"),
        ("Hartmann's rather than 0.9% saline", "hartmanns"),
        ("change from NS to LR", "lr"),
        ("LR, allergic to gelatin", "lr"),
        ("stop 5% dextrose, start 0.9% NaCl", "nacl"),
    ],
)
def test_the_fluid_that_is_meant_stays_and_the_other_goes(written: str, stays: str) -> None:
    left = meant(written).lower()
    assert stays in left
    others = {"saline", "hartmanns", "lr", "ns", "gelatin", "dextrose", "nacl"} - {stays}
    assert not others & set(left.replace(",", " ").split())


@pytest.mark.parametrize(
    "written",
    ["NS with KCl 20 mmol/L", "0.9% sodium chloride", "LR 125 mL/h", "no idea", "free 5%"],
)
def test_words_that_deny_nothing_are_kept_as_they_came(written: str) -> None:
    assert meant(written) == written


def test_a_rate_behind_a_denial_is_kept() -> None:
    assert "at 125 ml/h" in meant("0.9% NaCl without potassium at 125 mL/h")


@pytest.mark.parametrize("written", ["water 200 mL via NG", "oral rehydration by mouth", "1 L PO"])
def test_what_is_drunk_or_given_by_a_tube_is_known(written: str) -> None:
    assert by_tube(written)


@pytest.mark.parametrize(
    "written", ["NS 1 L, nil by mouth", "NS 1 L; KCl 40 mmol PO", "LR via pump"]
)
def test_an_infusion_is_none_of_it(written: str) -> None:
    assert not by_tube(written)


def test_by_weight_and_isotonic_add_nothing_to_a_strength() -> None:
    assert meant("0.9% w/v NaCl").split() == ["0.9%", "nacl"]
    assert meant("isotonic sodium bicarb 1.26%") == "sodium bicarb 1.26%"
    assert meant("isotonic saline") == "isotonic saline"
