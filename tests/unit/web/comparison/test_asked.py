"""The address of a comparison: read with care, written back the same."""

from urllib.parse import urlsplit

import pytest
from starlette.datastructures import QueryParams

from app.catalogue.catalogue import Catalogue
from app.web.comparison.asked import MOST_ASKED, MOST_FLUIDS, Asked, read_asked


def asked(catalogue: Catalogue, query: str) -> Asked:
    return read_asked(QueryParams(query), catalogue)


def test_a_bare_address_asks_for_a_litre_of_nothing(catalogue: Catalogue) -> None:
    bare = asked(catalogue, "")
    assert (bare.fluids, bare.show, bare.faults) == ((), "litre", ())
    assert bare.address() == "/compare"


def test_fluids_keep_the_order_they_were_asked_in_and_come_once(catalogue: Catalogue) -> None:
    query = "fluid=ringers-injection&fluid=glucose-5&fluid=ringers-injection"
    assert [f.id for f in asked(catalogue, query).fluids] == ["ringers-injection", "glucose-5"]


def test_an_unknown_fluid_is_named_and_the_others_stay(catalogue: Catalogue) -> None:
    one = asked(catalogue, "fluid=ringers-injection&fluid=nonsuch")
    (fault,) = one.faults
    assert (fault.field, fault.value) == ("fluid", "nonsuch")
    assert [f.id for f in one.fluids] == ["ringers-injection"]


def test_of_thousands_of_unknown_fluids_a_few_are_told_back(catalogue: Catalogue) -> None:
    assert len(asked(catalogue, "fluid=none&" * 5000).faults) == MOST_ASKED


def test_a_seventh_fluid_is_refused_and_six_are_shown(catalogue: Catalogue) -> None:
    ids = [fluid.id for fluid in catalogue][: MOST_FLUIDS + 1]
    one = asked(catalogue, "&".join(f"fluid={fluid_id}" for fluid_id in ids))
    assert [f.id for f in one.fluids] == ids[:MOST_FLUIDS]
    assert one.faults[0].value == "7 fluids"


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("rate", "12o"),
        ("rate", "-5"),
        ("rate", "0"),
        ("rate", "90000"),
        ("rate", "nan"),
        ("rate", "inf"),
        ("bag", "ten"),
        ("weight", "0"),
        ("weight", "1000"),
        ("show", "month"),
    ],
)
def test_what_is_not_accepted_is_named_with_what_is(
    catalogue: Catalogue, name: str, text: str
) -> None:
    (fault,) = asked(catalogue, f"{name}={text}").faults
    assert (fault.field, fault.value) == (name, text)
    assert fault.accepted


def test_a_refused_rate_leaves_the_usual_one_and_what_was_typed(catalogue: Catalogue) -> None:
    one = asked(catalogue, "rate=12o")
    assert one.rate_ml_h == 100
    assert one.typed["rate"] == "12o"


def test_a_decimal_comma_is_read(catalogue: Catalogue) -> None:
    assert asked(catalogue, "weight=3,2").weight_kg == pytest.approx(3.2)


@pytest.mark.parametrize(
    "query",
    [
        "fluid=ringers-injection&fluid=glucose-5",
        "fluid=ringers-injection&show=day&rate=80&weight=70&patient=bed-07&differences=1",
        "fluid=ringers-injection&show=bag&bag=250",
    ],
)
def test_the_link_to_a_comparison_asks_for_the_same_again(catalogue: Catalogue, query: str) -> None:
    once = asked(catalogue, query)
    assert read_asked(QueryParams(urlsplit(once.address()).query), catalogue) == once


def test_a_shared_link_names_no_patient(catalogue: Catalogue) -> None:
    one = asked(catalogue, "fluid=ringers-injection&patient=bed-07")
    assert "bed-07" not in one.address(with_patient=False)


def test_a_fluid_is_added_and_taken_away_by_link(catalogue: Catalogue) -> None:
    one = asked(catalogue, "fluid=ringers-injection")
    glucose = catalogue.get("glucose-5")
    assert glucose is not None
    two = one.with_fluid(glucose)
    assert two.address() == "/compare?fluid=ringers-injection&fluid=glucose-5"
    assert two.without("ringers-injection").address() == "/compare?fluid=glucose-5"


def test_the_patient_s_rate_is_used_until_one_is_typed(catalogue: Catalogue) -> None:
    assert asked(catalogue, "").at_patients_rate(8).rate_ml_h == 8
    assert asked(catalogue, "rate=60").at_patients_rate(8).rate_ml_h == 60
    assert asked(catalogue, "").at_patients_rate(None).rate_ml_h == 100


def test_amounts_are_counted_over_what_was_asked(catalogue: Catalogue) -> None:
    assert asked(catalogue, "").basis().label == "per litre"
    assert asked(catalogue, "show=bag&bag=250").basis().litres == pytest.approx(0.25)
    day = asked(catalogue, "show=day&rate=100").basis(70)
    assert (day.litres, day.per_kg) == pytest.approx((2.4, 70))
