"""Knowledge as shipped, the same with one thing otherwise, and past requests of all kinds."""

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, datetime

import pytest

from app.catalogue.catalogue import Catalogue
from app.cautions.assess import Ruleset
from app.cautions.registry import RULES
from app.review.knowledge import Knowledge
from app.review.replay.answer import Past
from app.storage.past.invented import invented_past
from app.storage.past.past import setting_of
from app.storage.past.stories import read_stories

AT = datetime(2031, 3, 4, 7, 5, tzinfo=UTC)
WithLimit = Callable[[str, str, float], Knowledge]


@pytest.fixture(scope="session")
def known() -> Knowledge:
    """As shipped."""
    return Knowledge.from_seed()


@pytest.fixture(scope="session")
def with_limit(known: Knowledge) -> WithLimit:
    """with_limit(rule, name, value): one limit otherwise."""

    def made(rule_id: str, name: str, value: float) -> Knowledge:
        own = {**known.ruleset.limits[rule_id], name: value}
        limits = {**known.ruleset.limits, rule_id: own}
        return known.having(ruleset=Ruleset.of(RULES, limits))

    return made


@pytest.fixture(scope="session")
def without_saline(known: Knowledge) -> Knowledge:
    """0.9% sodium chloride taken out of the catalogue."""
    fluids = tuple(fluid for fluid in known.catalogue if fluid.id != "sodium-chloride-0.9")
    return known.having(catalogue=Catalogue(fluids))


@pytest.fixture(scope="session")
def without_rule(known: Knowledge) -> Knowledge:
    """One rule switched off."""
    ids = {rule.id for rule in RULES} - {"ord-water-total"}
    return replace(known, ruleset=replace(known.ruleset.only(ids), version="less"))


@pytest.fixture(scope="session")
def month() -> tuple[Past, ...]:
    """Some days of the demo's past, of every kind."""
    stories = replace(read_stories(), days=3, requests_a_day=60)
    made = enumerate(invented_past(stories, AT), start=1)
    return tuple(Past(n, at, request, setting_of(request)) for n, (at, request) in made)


def water(rate_ml_h: float, number: int = 1, **more: object) -> Past:
    """An adult of 70 kg with maintenance at this rate: 32 mL/kg a day at 94 mL/h."""
    request = {
        "setting": "adult ward",
        "patient": {
            "age_years": 50, "sex": "male", "weight_kg": 70,
            "observations": [
                {"name": name, "value": value, "unit": "mmol/L", "taken_at": "2031-03-04T05:00:00Z"}
                for name, value in (("sodium", 140), ("potassium", 4.2), ("chloride", 102))
            ],
        },
        "orders": [
            {
                "id": "o1", "fluid": "compound sodium lactate", "volume_ml": 1000,
                "rate_ml_h": rate_ml_h, "purpose": "maintenance",
            }
        ],
        **more,
    }  # fmt: skip
    return Past(number, AT, request, "adult ward")
