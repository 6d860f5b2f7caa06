from app.cautions.data_rules import DATA_RULES
from app.cautions.registry import ALL_RULES, RULES
from app.cautions.switches import NEVER_OFF


def test_what_says_that_data_is_lacking_can_never_be_switched_off() -> None:
    assert {rule.id for rule in DATA_RULES} <= NEVER_OFF
    assert {rule.id for rule in ALL_RULES} - {rule.id for rule in RULES} == NEVER_OFF
