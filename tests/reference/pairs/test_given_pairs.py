"""Every pair of the list we were given is among the facts, said of the substance, not the bag.

`given.csv` is that list as it came: 167 rows, reviewed by no clinician. For none of them does a
laxer fact count here.
"""

import csv
from pathlib import Path
from typing import Final

import pytest

from app.catalogue.catalogue import Catalogue
from app.catalogue.pairs.fact import STRICTEST_FIRST, PairFact
from app.catalogue.pairs.facts import PairFacts
from app.catalogue.pairs.substance import Substance, drug_substance, fluid_substance
from app.intake.vocabulary import Vocabulary
from app.storage.seed_files import read_pair_facts

GIVEN: Final = tuple(
    csv.DictReader((Path(__file__).parent / "given.csv").read_text("utf-8").splitlines())
)
LR, CSL = "lactated-ringers", "compound-sodium-lactate"
ANY = ("any drug", "any fluid")
# What each name of the list means in our words, where it is not the name itself.
MEANS: Final[dict[str, tuple[str, ...]]] = {
    "0.45% sodium chloride": ("sodium-chloride-0.45",),
    "0.9% sodium chloride": ("sodium-chloride-0.9",),
    "10% dextrose": ("dextrose-10", "glucose-10"),
    "20% mannitol": ("mannitol-20",),
    "20-25% human albumin": ("albumin-20", "albumin-25"),
    "3-5% sodium chloride": ("sodium-chloride-3", "sodium-chloride-5"),
    "5% dextrose": ("dextrose-5", "glucose-5"),
    "5% dextrose in 0.2-0.225% sodium chloride": ("dextrose-5-sodium-chloride-0.2",),
    "5% dextrose in 0.45% sodium chloride": ("dextrose-5-sodium-chloride-0.45",),
    "5% dextrose in 0.9% sodium chloride": ("dextrose-5-sodium-chloride-0.9",),
    "5% dextrose in lactated Ringer's": ("dextrose-5-lactated-ringers",),
    "5% human albumin": ("albumin-5",),
    "Ringer's (no lactate)": ("ringers-injection",),
    "Ringer's acetate / acetate-malate (Ca-containing)": (
        "ringers-acetate", "acetate-malate-balanced", "acetated-ringers",
    ),
    "lactated Ringer's (US)": (LR,),
    "lactated Ringer's / compound sodium lactate": (LR, CSL),
    "gelatin with calcium": ("gelatin-4-balanced",),
    "human albumin": ("albumin-5", "albumin-20", "albumin-25"),
    "multiple electrolytes type 1 pH 5.5 (Ca-free)": ("multiple-electrolytes-type-1-ph-5.5",),
    "multiple electrolytes type 1 pH 7.4 (Ca-free)": ("multiple-electrolytes-type-1-ph-7.4",),
    "sterile water": ("sterile-water",),
    "any calcium-containing infusion": (LR, CSL, "calcium_gluconate", "parenteral_nutrition"),
    "any blood component": ("red_cells", "platelets", "plasma", "cryoprecipitate", "whole_blood"),
    "any electrolyte fluid or other drug": ANY,
    "any infusion": ("any fluid",),
    "any intravenous drug": ("any drug",),
    "any other drug": ("any drug",),
    "parenteral nutrition or any drug": ("any drug", "parenteral_nutrition"),
    "protein hydrolysate or alcohol solutions": ("amino_acids",),
    "acyclovir": ("aciclovir",),
    "aminoglycosides": ("gentamicin", "amikacin"),
    "amphotericin B (all forms)": ("amphotericin_b",),
    "fresh frozen plasma (ABO compatible)": ("plasma",),
    "insulin (regular)": ("insulin",),
    "iron sucrose": ("iron",),
    "magnesium sulfate 100 mg/mL": ("magnesium_sulfate",),
    "potassium chloride 0.3%": ("potassium_chloride",),
    "potassium chloride 40 mmol/L in 5% dextrose": ("potassium_chloride",),
    "potassium chloride added fluids": ("potassium_chloride",),
    "potassium or sodium phosphate": ("potassium_phosphate", "sodium_phosphate"),
    "sulfamethoxazole-trimethoprim": ("co_trimoxazole",),
}  # fmt: skip
VERDICTS: Final = {
    "may share": ("may run together",),
    "keep apart": ("keep apart",),
    "only if": ("only if", "in turn"),
    "no data": ("no data",),
}
POPULATIONS: Final = {
    "all": "all", "adult/child > 28 d": "past 28 days", "neonate <= 28 d": "newborn",
}  # fmt: skip


@pytest.fixture(scope="module")
def facts() -> PairFacts:
    return read_pair_facts()


def meant(name: str, catalogue: Catalogue, vocabulary: Vocabulary) -> tuple[Substance, ...]:
    own = name.replace(" ", "_").replace("-", "_").replace("B", "b")
    keys = MEANS.get(name, (own,))
    return tuple(substance(key, catalogue, vocabulary) for key in keys)


def substance(key: str, catalogue: Catalogue, vocabulary: Vocabulary) -> Substance:
    fluid = catalogue.get(key)
    if fluid is not None:
        return fluid_substance(fluid)
    if key in ANY:
        return Substance(frozenset({"another"}), kind=key)  # type: ignore[arg-type]
    entry = vocabulary.tables["drugs"]["drug"][key]
    kind = "any drug" if entry.get("kind", "drug") == "drug" else "any fluid"
    return drug_substance(key, entry.get("also", ()), kind)  # type: ignore[arg-type]


def says_the_same(fact: PairFact, row: dict[str, str]) -> bool:
    return (
        fact.verdict in VERDICTS[row["verdict"]]
        and fact.population == POPULATIONS[row["population"]]
    )


def named(row: dict[str, str]) -> str:
    return f"{row['a']} + {row['b']} ({row['population']})"


def test_the_list_is_whole() -> None:
    assert len(GIVEN) == 167


@pytest.mark.parametrize("row", GIVEN, ids=named)
def test_every_pair_we_were_given_is_among_the_facts(
    row: dict[str, str], facts: PairFacts, catalogue: Catalogue, vocabulary: Vocabulary
) -> None:
    for one in meant(row["a"], catalogue, vocabulary):
        for other in meant(row["b"], catalogue, vocabulary):
            behind = [ranked.fact for ranked in facts.behind(one, other)]
            alike = [fact for fact in behind if says_the_same(fact, row)]
            assert alike, f"{sorted(one.names)} + {sorted(other.names)}"
            assert all(fact.source.work for fact in alike)


@pytest.mark.parametrize("row", GIVEN, ids=named)
def test_what_counts_is_never_laxer_than_what_we_were_given(
    row: dict[str, str], facts: PairFacts, catalogue: Catalogue, vocabulary: Vocabulary
) -> None:
    if row["population"].startswith("neonate"):
        return
    told = min(STRICTEST_FIRST.index(v) for v in VERDICTS[row["verdict"]])
    laxest = max(STRICTEST_FIRST.index(v) for v in VERDICTS[row["verdict"]])
    for one in meant(row["a"], catalogue, vocabulary):
        for other in meant(row["b"], catalogue, vocabulary):
            fact = facts.between(one, other)
            assert fact is not None
            assert fact.strictness <= max(told, laxest)


# Rows given from memory whose source was seen since.
SEEN_SINCE: Final = frozenset(
    {
        ("calcium gluconate", "magnesium sulfate"),
        ("milrinone", "furosemide"),
        ("platelets", "0.9% sodium chloride"),
        ("fresh frozen plasma (ABO compatible)", "0.9% sodium chloride"),
        ("cryoprecipitate", "0.9% sodium chloride"),
        ("amiodarone", "heparin"),
        ("furosemide", "labetalol"),
        ("sodium bicarbonate", "nicardipine"),
        ("nicardipine", "lactated Ringer's / compound sodium lactate"),
        ("nicardipine", "0.9% sodium chloride"),
        ("nicardipine", "0.45% sodium chloride"),
        ("nicardipine", "5% dextrose"),
        ("nicardipine", "5% dextrose in 0.9% sodium chloride"),
        ("nicardipine", "5% dextrose in 0.45% sodium chloride"),
    }
)


def test_what_we_were_given_from_memory_stays_so_unless_its_source_was_seen_since(
    facts: PairFacts, catalogue: Catalogue, vocabulary: Vocabulary
) -> None:
    seen_now = set()
    for row in GIVEN:
        one = meant(row["a"], catalogue, vocabulary)[0]
        other = meant(row["b"], catalogue, vocabulary)[0]
        own = [r.fact for r in facts.behind(one, other) if r.names_both]
        alike = [fact for fact in own if says_the_same(fact, row)]
        if row["verified"] == "from memory" and any(fact.source.seen for fact in alike):
            seen_now.add((row["a"], row["b"]))
    assert seen_now == SEEN_SINCE
