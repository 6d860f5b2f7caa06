"""The ledger in words: what brings most first, what is a lower bound said so."""

from app.catalogue.catalogue import Catalogue
from app.catalogue.vehicles.vehicle import Vehicles
from app.intake.read import read_case
from app.intake.vocabulary import Vocabulary
from app.review.ledger.ledger import ledger_of
from app.web.advice.ledger import LedgerView, ledger_view
from tests.conftest import NOW

SALINE = {
    "id": "o1", "fluid": "0.9% sodium chloride", "volume_ml": 1000, "rate_ml_h": 50,
    "purpose": "maintenance",
}  # fmt: skip
VANCOMYCIN = "vancomycin 1 g in 250 mL 0.9% sodium chloride twice daily"


def view_of(
    catalogue: Catalogue, vocabulary: Vocabulary, vehicles: Vehicles, *infusions: str
) -> LedgerView:
    request = {
        "setting": "adult ward",
        "patient": {"age_years": 60, "weight_kg": 70},
        "orders": [SALINE],
        "co_infusions": [{"name": name} for name in infusions],
    }
    case = read_case(request, catalogue=catalogue, vocabulary=vocabulary, now=NOW)
    return ledger_view(ledger_of(case, vehicles))


def test_what_brings_most_water_stands_first(
    catalogue: Catalogue, vocabulary: Vocabulary, vehicles: Vehicles
) -> None:
    view = view_of(catalogue, vocabulary, vehicles, VANCOMYCIN)
    assert len(view.sources) > 1
    assert [s.bar for s in view.sources] == sorted((s.bar for s in view.sources), reverse=True)
    assert "Drugs, their carriers and flushes bring" in view.lead


def test_need_stands_beside_where_it_is_known(
    catalogue: Catalogue, vocabulary: Vocabulary, vehicles: Vehicles
) -> None:
    view = view_of(catalogue, vocabulary, vehicles)
    assert len(view.needs) == len(view.columns)
    assert "70 kg" in view.need


def test_a_drug_nobody_has_a_carrier_for_is_said_to_be_a_lower_bound(
    catalogue: Catalogue, vocabulary: Vocabulary, vehicles: Vehicles
) -> None:
    view = view_of(catalogue, vocabulary, vehicles, "wonderdrug 5 mg twice daily")
    assert view.totals[0].prefix == "at least "
