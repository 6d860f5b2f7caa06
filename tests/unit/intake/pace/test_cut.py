"""A fluid's name without the words that say how it runs."""

import pytest

from app.intake.pace.cut import MOST_LEADING, cut_rate_words


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("0.9% sodium chloride at 125 mL/h", "0.9% sodium chloride"), ("D5W @ 75 ml/hr", "d5w"),
        ("Hartmann's 1 L over 8 h", "hartmanns 1 l"), ("NS 20 ml/kg bolus", "ns"),
        ("0.9% sodium chloride with KCl 40 mmol/L", "0.9% sodium chloride with KCl 40 mmol/L"),
        ("D5W 50/hr KVO", "d5w"), ("1L saline 8/24", "1l saline"), ("LR 75 an hour", "lr"),
        ("500 mL bolus of 0.9% saline over 15 min", "0.9% saline"),
        ("Bolus 500 mL Hartmann's", "500 ml hartmanns"), ("125 mL/h of 0.9% saline", "0.9% saline"),
        ("Hartmann's (on hold)", "hartmanns"), ("IVF: NS @ 100/h x 24h", "ns"),
        ("40 mmol KCl in a litre of 0.9% saline over 4 h", "40 mmol kcl in 1 litre of 0.9% saline"),
        ("RL 1 pint over 6 hours", "rl 500 ml"), ("Hartmann's, 125, maintenance", "hartmanns"),
        ("D10 + NaCl 3 mmol/kg/day", "D10 + NaCl 3 mmol/kg/day"), ("125 mL/h", "125 mL/h"),
        ("pt on 2 L O2, NS at 75 ml/hr", "ns"), ("saline at 10 mmol/h of KCl", "saline"),
        ("NS 500 ml i/v stat", "ns 500 ml iv"), ("NS 3 pints/day", "ns"),
        ("0.9% saline arterial flush 3 mL/h", "0.9% saline"),
        ("Saline 0.9% 1,000 mL", "saline 0.9% 1000 ml"),
    ],
)  # fmt: skip
def test_the_rate_is_cut_off_the_name(written: str, name: str) -> None:
    assert cut_rate_words(written)[0] == name


def test_words_before_and_behind_the_name_are_both_kept() -> None:
    assert cut_rate_words("Bolus of Hartmann's 500 mL over 10 min") == (
        "hartmanns 500 ml", "bolus ,  over 10 min",
    )  # fmt: skip


def test_a_run_of_signs_before_a_rate_is_looked_at_a_few_at_a_time() -> None:
    assert cut_rate_words(f"saline {'(' * 40} 125 mL/h")[0].startswith("saline")
    assert cut_rate_words("125 mL/h, " * 40 + "saline")[1].count("125") == MOST_LEADING
