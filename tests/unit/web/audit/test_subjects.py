"""A subject is named with the page that shows it; who may read of which is one set."""

import pytest

from app.catalogue.catalogue import Catalogue
from app.security.acts import Role
from app.security.person import Person
from app.web.audit.subjects import BEDSIDE, CONTENT, KINDS, NAMES, PEOPLE, kinds_for, named


def person(*roles: Role) -> Person:
    return Person("x", "X", frozenset(roles), "local")


def test_a_pharmacist_reads_of_content_and_an_administrator_of_all() -> None:
    assert kinds_for(person(Role.PHARMACIST)) == CONTENT
    assert kinds_for(person(Role.ADMINISTRATOR)) is None
    assert kinds_for(person(Role.PHARMACIST, Role.ADMINISTRATOR)) is None


def test_every_kind_is_of_content_people_or_bedside_and_only_one() -> None:
    assert not (CONTENT & PEOPLE or CONTENT & BEDSIDE or PEOPLE & BEDSIDE)
    assert set(NAMES) <= KINDS


@pytest.mark.parametrize(
    ("subject", "words", "href"),
    [
        ("fluid:sodium-chloride-0.9", "0.9% sodium chloride", "/catalogue/sodium-chloride-0.9"),
        ("stock:sodium-chloride-0.9", "0.9% sodium chloride", "/catalogue/sodium-chloride-0.9"),
        ("fluid:gone", "gone", ""),
        ("limit:k-hyper/gone", "limit k-hyper/gone", ""),
        ("rule:k-hyper", "rule k-hyper", "/rules/k-hyper"),
        ("rule:gone", "rule gone", ""),
        ("change:12", "change 12", "/changes/12"),
        ("trail", "the trail of acts", ""),
        ("of no known kind", "of no known kind", ""),
    ],
)
def test_a_subject_is_named(catalogue: Catalogue, subject: str, words: str, href: str) -> None:
    found = named(subject, catalogue)
    assert (found.words, found.href) == (words, href)


def test_a_lumen_is_named_without_its_patient(catalogue: Catalogue) -> None:
    assert named("lumen:bed-07/left-hand", catalogue).words == "a lumen"


def test_a_limit_brings_its_unit_and_its_shipped_value(catalogue: Catalogue) -> None:
    found = named("limit:k-hyper/potassium_high_mmol_l", catalogue)
    assert found.unit == "mmol/L"
    assert found.shipped is not None
    assert found.href == "/rules/k-hyper"
