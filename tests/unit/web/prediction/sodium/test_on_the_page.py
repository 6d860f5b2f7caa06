"""What a reader of the page is told of sodium, at the addresses that once misled."""

import html
import re

import pytest
from fastapi.testclient import TestClient

SALT = "/predict?fluid=sodium-chloride-3"
WATER = "/predict?fluid=glucose-5"
HIGH = (
    "/predict?fluid=dextrose-5&volume=3000&minutes=720&weight=70&age=80&sex=male&result_sodium=165"
)
LOW_WATER = f"{WATER}&volume=2000&minutes=1440&weight=60&age=70&sex=female&result_sodium=118"
BOLUS = f"{SALT}&volume=150&minutes=20&weight=58&sex=female&result_sodium=112&age=64"
SHORT_LOOK = (
    f"{SALT}&volume=1000&minutes=1440&weight=58&age=60&sex=female&result_sodium=112&horizon=4"
)


def text_of(client: TestClient, address: str) -> str:
    page = client.get(address).text
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", page)).split())


@pytest.mark.parametrize("address", [HIGH, LOW_WATER, SHORT_LOOK, "/predict?patient=bed-22"])
def test_nothing_is_within_a_limit_where_a_rule_warns(client: TestClient, address: str) -> None:
    words = text_of(client, address)
    assert "band and all" not in words
    assert not re.search(r"(stays|alone:) within [+−]", words)


def test_water_for_a_low_sodium_is_told_both_ways_and_not_to_be_given(client: TestClient) -> None:
    words = text_of(client, LOW_WATER)
    assert "if kidneys pass the water" in words
    assert "if they keep it. Do not give it for a low sodium." in words
    assert "is likely to pass" not in words


def test_a_look_of_four_hours_still_speaks_of_the_day(client: TestClient) -> None:
    words = text_of(client, SHORT_LOOK)
    assert "By the prediction: Sodium is likely to pass +8 in 24 h (120)" in words


def test_after_a_bolus_a_fit_and_the_sample_at_its_end_come_first(client: TestClient) -> None:
    words = text_of(client, BOLUS)
    section = words[words.index("Sodium in a day") :]
    assert section.index("Fits, vomiting") < section.index("Urine can pass it without the bag")
    assert "Sodium when the bolus is in (20 min), before another" in section
    assert "A good peripheral vein will do for a rescue bolus" in words


def test_urine_on_record_is_counted_and_what_it_holds_is_asked_for(client: TestClient) -> None:
    words = text_of(client, "/predict?patient=bed-22")
    assert "Urine is counted as 130 mL/h" in words
    assert "Believe the results." in words
    assert "Send urine sodium and potassium." in words
    assert re.search(r"By 24 h: 12\d if urine is salty, 13\d if it is dilute\.", words)


def test_a_high_potassium_in_failing_kidneys_is_given_no_hope(client: TestClient) -> None:
    words = text_of(client, "/predict?patient=bed-04")
    assert "Do not run this bag. Kidneys fail: count on at least 6.1 mmol/L, and rising." in words
    assert "Potassium and ECG now, potassium again in 1 to 2 h" in words


def test_both_ways_of_acid_base_stay_within_reach(client: TestClient) -> None:
    page = client.get(BOLUS).text
    folded = page[page.index("By strong ions, and by bicarbonate") :]
    assert "strong ion difference" in folded
    assert "to hold bicarbonate at" in html.unescape(folded)
    two = client.get(f"{BOLUS}&fluid_b=lactated-ringers").text
    assert re.search(r"<details open><summary>By strong ions, and by bicarbonate", two)
