import pytest
from fastapi.testclient import TestClient

from app.api.shapes import FluidOut, FluidsReply
from app.catalogue.catalogue import Catalogue


def test_every_fluid_is_listed_with_its_sources(client: TestClient, catalogue: Catalogue) -> None:
    fluids = client.get("/api/fluids").json()["fluids"]
    assert [fluid["id"] for fluid in fluids] == [fluid.id for fluid in catalogue]
    assert all(fluid["sources"] for fluid in fluids)


def test_one_fluid_carries_mmol_and_meq_from_its_label(client: TestClient) -> None:
    ringer = client.get("/api/fluids/lactated-ringers").json()
    assert ringer["composition"]["calcium_mmol_l"] == 1.35
    assert ringer["composition_meq_l"]["calcium"] == 2.7
    assert "phosphate" not in ringer["composition_meq_l"]
    assert ringer["computed"]["strong_ion_difference_meq_l"] == pytest.approx(27.7)


def test_a_figure_that_is_on_no_label_is_null_not_zero(client: TestClient) -> None:
    albumin = client.get("/api/fluids/albumin-5").json()
    assert albumin["composition"]["chloride_mmol_l"] is None
    assert albumin["computed"]["osmolarity_mosm_l"] is None


def test_an_unknown_fluid_is_not_found_in_words(client: TestClient) -> None:
    reply = client.get("/api/fluids/moon-water")
    assert reply.status_code == 404
    assert "moon-water" in reply.text


def test_fluids_stand_beside_plasma(client: TestClient) -> None:
    fluids = ["sodium-chloride-0.9", "lactated-ringers"]
    laid = client.get("/api/compare", params={"fluid": fluids}).json()
    assert [column["key"] for column in laid["columns"]] == ["plasma", *fluids]
    chloride = next(row for row in laid["rows"] if row["key"] == "chloride")
    assert [cell["value"] for cell in chloride["cells"][1:]] == [154, 109]


@pytest.mark.parametrize(
    "fluids", [[], ["sodium-chloride-0.9"], ["sodium-chloride-0.9", "moon"], ["dextrose-5"] * 7]
)
def test_a_comparison_that_cannot_be_laid_names_what_is_accepted(
    client: TestClient, fluids: list[str]
) -> None:
    reply = client.get("/api/compare", params={"fluid": fluids})
    assert reply.status_code == 422
    assert reply.json()["errors"][0]["field"] == "fluid"


def test_every_fluid_says_where_it_is_to_be_had(client: TestClient) -> None:
    reply = client.get("/api/fluids").json()
    FluidsReply.model_validate(reply)
    states = {fluid["id"]: fluid["stock"]["state"] for fluid in reply["fluids"]}
    assert states["compound-sodium-lactate"] == "short"
    assert states["dextrose-50"] == "not told"
    one = client.get("/api/fluids/multiple-electrolytes-type-1-ph-7.4").json()
    FluidOut.model_validate(one)
    assert one["stock"]["state"] == "out"
    assert one["stock"]["since"] == "2031-03-04T05:40:00+00:00"
