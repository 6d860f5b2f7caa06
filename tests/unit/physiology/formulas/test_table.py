"""The table is whole: each formula says where it is from, when it misleads, and is worked."""

from inspect import signature

import pytest

from app.physiology.formulas.formula import Formula
from app.physiology.formulas.table import FORMULAS, SUBJECTS

EACH = pytest.mark.parametrize("formula", FORMULAS, ids=lambda formula: formula.id)


def test_no_two_formulas_share_a_name() -> None:
    assert len({formula.id for formula in FORMULAS}) == len(FORMULAS)
    assert len({formula.title for formula in FORMULAS}) == len(FORMULAS)
    assert len({subject.name for subject in SUBJECTS}) == len(SUBJECTS)


@EACH
def test_each_has_a_source_a_limit_and_examples(formula: Formula) -> None:
    assert formula.sources
    assert formula.misleads
    assert all(part.examples for part in formula.parts)


@EACH
def test_every_input_is_a_term_and_every_term_is_used(formula: Formula) -> None:
    terms = {term.key for term in formula.terms}
    inputs = {key for part in formula.parts for one in part.examples for key in one.inputs}
    assert inputs == terms


@EACH
def test_every_input_is_one_that_the_function_takes(formula: Formula) -> None:
    for part in formula.parts:
        for one in part.examples:
            signature(part.work).bind(**one.inputs)


@EACH
def test_several_expressions_are_told_apart_by_name(formula: Formula) -> None:
    names = [part.name for part in formula.parts]
    assert len(set(names)) == len(names)


@EACH
def test_terms_stand_in_an_expression_as_their_symbols(formula: Formula) -> None:
    """A pencil must find each symbol; rules in words and constants of a worked case aside."""
    if formula.id in {"amounts", "osmolarity", "maintenance", "newborn-water", "adult-needs",
                      "volume-kinetics", "volume-kinetics-dilution"}:  # fmt: skip
        return
    written = " ".join(part.expression for part in formula.parts)
    missing = [term.symbol for term in formula.terms if term.symbol not in written]
    assert not missing
