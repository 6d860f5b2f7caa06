"""A label's salts by weight against the entry's ions."""

from app.catalogue.catalogue import Catalogue
from app.catalogue.labels.held import Difference
from app.catalogue.labels.reading import read_label
from app.catalogue.labels.weighed import salts_against


def against(catalogue: Catalogue, fluid_id: str, text: str) -> list[Difference | str]:
    fluid = catalogue.get(fluid_id)
    assert fluid is not None
    return list(salts_against(read_label(text), fluid))


def differ(found: list[Difference | str]) -> list[str]:
    return [one.of for one in found if isinstance(one, Difference)]


def test_salts_are_summed_into_ions(catalogue: Catalogue) -> None:
    text = (
        "1000 mL contains: sodium chloride 6 g, sodium lactate 3.1 g, potassium chloride 300 mg, "
        "calcium chloride dihydrate 0.2 g"
    )
    found = against(catalogue, "lactated-ringers", text)
    assert differ(found) == []
    assert "sodium, from the salts 130.3 mmol/L" in found


def test_a_salt_that_is_missing_takes_both_its_ions_away(catalogue: Catalogue) -> None:
    found = against(
        catalogue, "lactated-ringers", "sodium chloride 6.0 g, sodium lactate 3.1 g per L"
    )
    assert set(differ(found)) == {
        "potassium, from the salts", "calcium, from the salts", "chloride, from the salts",
    }  # fmt: skip


def test_no_salt_by_weight_is_nothing_to_compare(catalogue: Catalogue) -> None:
    assert against(catalogue, "lactated-ringers", "Na 130 mmol/L") == []


def test_a_salt_with_its_water_left_open_leaves_its_ions_open(catalogue: Catalogue) -> None:
    text = "sodium chloride 5 g/L, sodium acetate 3 g/L"
    found = against(catalogue, "multiple-electrolytes-type-1-ph-7.4", text)
    assert "sodium, from the salts" not in differ(found)


def test_a_salt_said_by_weight_and_in_per_cent_counts_once(catalogue: Catalogue) -> None:
    found = against(catalogue, "sodium-chloride-0.9", "Sodium chloride 0.9% w/v (9.00 g/L)")
    assert differ(found) == []


def test_a_salt_of_which_the_label_says_two_amounts_is_told(catalogue: Catalogue) -> None:
    text = "Sodium chloride 0.9% w/v (1 g/L)"
    found = against(catalogue, "sodium-chloride-0.9", text)
    (difference,) = [one for one in found if isinstance(one, Difference)]
    assert difference.of == "sodium chloride"
    assert difference.label == "0.9 g in 100 mL and 1 g/L"
    rounded = "Sodium chloride 0.6 g in 100 mL (6 g/L)"
    assert "two things" not in str(against(catalogue, "lactated-ringers", rounded))
