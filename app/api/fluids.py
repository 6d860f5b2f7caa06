"""GET /api/fluids, /api/fluids/{id} and /api/compare: the catalogue as data."""

from typing import Annotated, Any, Final

from fastapi import APIRouter, HTTPException, Query, Request, Response

from app.api.reading import JsonReply, errors_reply, newest_stock
from app.api.shapes import Errors, FluidOut, FluidsReply
from app.catalogue.catalogue import Catalogue
from app.catalogue.comparison import Beside, Row
from app.catalogue.comparison import compare as beside_each_other
from app.catalogue.fluid import Fluid
from app.catalogue.source import Source
from app.catalogue.stock.stock import Stock
from app.chemistry.composition import Composition
from app.chemistry.substances import IONS
from app.chemistry.units import meq_from_mmol
from app.intake.errors import InputError

router = APIRouter(tags=["fluids"])

FEWEST_COMPARED: Final = 2
MOST_COMPARED: Final = 6
DIGITS: Final = 6


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, DIGITS)


def _source(source: Source) -> dict[str, Any]:
    return {
        "work": source.work,
        "place": source.place,
        "seen": source.seen,
        "covers": list(source.covers),
        "note": source.note,
    }


def fluid_as_data(fluid: Fluid, stock: Stock) -> dict[str, Any]:
    """One fluid with composition, computed figures, sources and where it is to be had; null = not
    on the label.
    """
    return {
        "id": fluid.id,
        "name": fluid.name,
        "kind": fluid.kind,
        "variant_of": fluid.variant_of or None,
        "never_hung": fluid.never_hung or None,
        "composition": _composition(fluid.composition),
        "composition_meq_l": _charges(fluid.composition),
        "osmolarity_labelled_mosm_l": fluid.osmolarity_labelled_mosm_l,
        "ph": {"low": fluid.ph.low, "typical": fluid.ph.typical, "high": fluid.ph.high},
        "energy_kcal_l": fluid.energy_kcal_l,
        "pack_sizes_ml": list(fluid.pack_sizes_ml),
        "computed": _computed(fluid),
        "note": fluid.note,
        "stock": stock.of(fluid.id).as_data(),
        "sources": [_source(source) for source in fluid.sources],
    }


def _composition(composition: Composition) -> dict[str, Any]:
    basis = "monohydrate" if composition.glucose_monohydrate else "anhydrous"
    return {
        **{name: _rounded(value) for name, value in composition.amounts().items()},
        "glucose_basis": basis if composition.glucose_g_l else None,
    }


def _charges(composition: Composition) -> dict[str, float | None]:
    """mEq/L of each ion that has a fixed charge; an ion on no label is left out."""
    amounts = {ion.key: composition.ion_mmol_l(ion.key) for ion in IONS}
    return {
        ion.key: _rounded(meq_from_mmol(ion.key, amount))
        for ion in IONS
        if ion.charge and (amount := amounts[ion.key]) is not None
    }


def _computed(fluid: Fluid) -> dict[str, Any]:
    c = fluid.composition
    return {
        "osmolarity_mosm_l": _rounded(c.osmolarity_mosm_l),
        "tonicity_mosm_l": _rounded(c.tonicity_mosm_l),
        "tonicity_class": fluid.tonicity_class,
        "strong_ion_difference_meq_l": _rounded(c.strong_ion_difference_meq_l),
        "charge_gap_meq_l": _rounded(c.charge_gap_meq_l),
    }


@router.get("/fluids", response_class=JsonReply, responses={200: {"model": FluidsReply}})
def all_fluids(request: Request) -> Response:
    """Every fluid of the catalogue, with the catalogue's version."""
    catalogue: Catalogue = request.app.state.knowledge.catalogue
    stock = newest_stock(request)
    return JsonReply(
        {"catalogue": catalogue.version, "fluids": [fluid_as_data(f, stock) for f in catalogue]}
    )


@router.get(
    "/fluids/{fluid_id}",
    response_class=JsonReply,
    responses={200: {"model": FluidOut}, 404: {"model": Errors}},
)
def one_fluid(request: Request, fluid_id: str) -> Response:
    """One fluid by its id."""
    fluid = request.app.state.knowledge.catalogue.get(fluid_id)
    if fluid is None:
        raise HTTPException(404, detail=f"No fluid has the id {fluid_id!r}; see /api/fluids.")
    return JsonReply(fluid_as_data(fluid, newest_stock(request)))


@router.get("/compare", response_class=JsonReply, responses={422: {"model": Errors}})
def compare(request: Request, fluid: Annotated[list[str] | None, Query()] = None) -> Response:
    """Two to six fluids beside each other and beside plasma, with each one's difference."""
    knowledge = request.app.state.knowledge
    try:
        fluids = compared(fluid or [], knowledge.catalogue)
    except InputError as problem:
        return errors_reply(problem)
    laid = beside_each_other(fluids, Beside(plasma=knowledge.plasma))
    stock = newest_stock(request)
    return JsonReply(
        {
            "fluids": [fluid_as_data(f, stock) for f in fluids],
            "columns": [{"key": c.key, "heading": c.heading, "kind": c.kind} for c in laid.columns],
            "rows": [row_as_data(row) for row in (*laid.amounts, *laid.figures)],
        }
    )


def row_as_data(row: Row) -> dict[str, Any]:
    """One row of a comparison: its cells in the order of the columns."""
    return {
        "key": row.head.key,
        "name": row.head.name,
        "unit": row.head.unit,
        "formula": row.head.formula,
        "is_equal": row.is_equal,
        "absent_in": list(row.absent_in),
        "cells": [
            {
                "value": _rounded(cell.value),
                "why": cell.why,
                "working": cell.working,
                "difference": _rounded(cell.difference),
                "place": cell.place,
            }
            for cell in row.cells
        ],
    }


def compared(fluid_ids: list[str], catalogue: Catalogue) -> list[Fluid]:
    """The fluids asked for. Raises InputError for an unknown id or a wrong count."""
    if not FEWEST_COMPARED <= len(fluid_ids) <= MOST_COMPARED:
        accepted = f"{FEWEST_COMPARED} to {MOST_COMPARED} fluids, as fluid=ID&fluid=ID"
        raise InputError("fluid", len(fluid_ids), accepted)
    fluids = [catalogue.get(fluid_id) for fluid_id in fluid_ids]
    for fluid_id, found in zip(fluid_ids, fluids, strict=True):
        if found is None:
            raise InputError("fluid", fluid_id, "an id of /api/fluids")
    return [fluid for fluid in fluids if fluid is not None]
