"""Names in the form of ids."""

import pytest

from app.intake.slips.ids import amount_at_end, is_id, spoken, ways_of_id


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("saline_0_9", "saline 0.9"), ("saline_3", "saline 3"), ("saline_7_5", "saline 7.5"),
        ("sodium_bicarbonate_8_4", "sodium bicarbonate 8.4"), ("nahco3_1_26", "nahco3 1.26"),
        ("hes_130_0_4", "hes 130 0.4"), ("d5_0_45", "d5 0.45"), ("d3_3_nacl_0_3", "d3.3 nacl 0.3"),
        ("mel1_ph7_4", "mel1 ph7.4"), ("kcl20_0_9_saline", "kcl20 0.9 saline"),
        ("mgso4_50", "mgso4 50"), ("glucose_3_3_0_3", "glucose 3.3 0.3"),
        ("kcl_20_in_100ml_saline", "kcl 20 in 100ml saline"), ("saline_0.9", "saline 0.9"),
        ("0.9% saline 20-40 mL/h", "0.9% saline 20-40 mL/h"),
    ],
)  # fmt: skip
def test_underscores_are_points_between_figures_and_else_blanks(written: str, said: str) -> None:
    assert spoken(written) == said


def test_an_id_has_hyphens_as_underscores_and_bare_figures_as_percent() -> None:
    assert list(ways_of_id("saline-0-9", strength=True)) == ["saline 0.9", "saline 0.9 %"]
    assert list(ways_of_id("hes_6_in_saline", strength=True)) == ["hes 6 % in saline"]
    assert list(ways_of_id("hes_6_in_saline", strength=False)) == []
    assert list(ways_of_id("saline_855", strength=True)) == []
    assert list(ways_of_id("0.9% saline", strength=True)) == []
    assert is_id("saline-0-9") and is_id("albumin_5") and is_id("Nacl-0.9")
    assert not is_id("saline") and not is_id("0.9% saline") and not is_id("saline 20-40 mL/h")


def test_an_amount_at_the_end_is_of_a_hundred_or_more() -> None:
    assert amount_at_end("saline 855") == ("saline", 855)
    assert amount_at_end("albumin 20") is None
    assert amount_at_end("855") is None
