"""Every rule as it runs, with the limits in force and its worked examples."""

from fastapi.testclient import TestClient

from app.cautions.registry import ALL_RULES, RULE_BY_ID
from app.review.knowledge import Knowledge
from app.web.rules import Asked, all_examples, family_name, family_of, rules_page, with_links


def test_every_rule_is_listed_once(client: TestClient) -> None:
    html = client.get("/rules").text
    for rule in ALL_RULES:
        assert html.count(f'href="/rules/{rule.id}"') == 1, rule.id


def test_every_rule_has_its_page(client: TestClient) -> None:
    for rule in ALL_RULES:
        assert client.get(f"/rules/{rule.id}").status_code == 200, rule.id


def test_a_rule_shows_what_it_does_and_why(client: TestClient) -> None:
    html = client.get("/rules/k-hyper").text
    for words in (
        "Speaks when", "Unless", "What to do", "Evidence", "Needs", "Limits", "5.5 mmol/L",
        "Worked examples", "No clinician has reviewed this rule", "Supports your judgement",
    ):  # fmt: skip
        assert words in html


def test_an_example_shows_what_is_said_of_it(client: TestClient) -> None:
    assert all_examples()
    assert "nothing found" in client.get("/rules/k-hyper").text


def test_an_unknown_rule_is_named(client: TestClient) -> None:
    answer = client.get("/rules/nonsuch")
    assert answer.status_code == 404
    assert "no rule “nonsuch”" in answer.text


def test_a_rule_belongs_to_the_family_it_stands_in() -> None:
    assert family_of(RULE_BY_ID["k-hyper"]) == "potassium"
    assert family_of(RULE_BY_ID["data-missing"]) == "data"
    assert family_name("order") == "The order itself"
    assert family_name("calcium") == "Calcium"


def test_families_hold_every_rule() -> None:
    page = rules_page(Knowledge.from_seed())
    assert sum(len(family.rules) for family in page.families) == page.count == len(ALL_RULES)


def test_a_search_keeps_the_rules_in_which_every_word_stands() -> None:
    knowledge = Knowledge.from_seed()
    page = rules_page(knowledge, Asked("ceftriaxone newborn"))
    found = {rule.id for family in page.families for rule in family.rules}
    assert "cef-ca-neonate" in found and page.found == len(found) < page.count
    assert not rules_page(knowledge, Asked("nonsuch")).families


def test_rules_can_be_kept_to_a_level() -> None:
    page = rules_page(Knowledge.from_seed(), Asked(level="critical"))
    assert page.found == sum("critical" in rule.levels for rule in ALL_RULES)


def test_a_level_that_does_not_exist_asks_for_every_rule(client: TestClient) -> None:
    html = client.get("/rules?level=loudest").text
    assert html.count('class="rules-title"') == len(ALL_RULES)


def test_the_search_answers_with_its_part_and_with_the_whole_page(client: TestClient) -> None:
    whole = client.get("/rules?find=lithium&level=warning")
    part = client.get("/rules?find=lithium&level=warning", headers={"HX-Request": "true"})
    assert "<html" in whole.text and "<html" not in part.text
    for answer in (whole, part):
        assert "rules with “lithium” that speak at warning" in answer.text
        assert "/rules/li-sodium" in answer.text and "/rules/k-hyper" not in answer.text


def test_a_rule_named_in_another_is_a_link_by_its_title(client: TestClient) -> None:
    assert list(with_links("as bic-dka does, pre-mixed")) == [
        ("as ", ""), (f"“{RULE_BY_ID['bic-dka'].title}”", "bic-dka"), (" does, pre-mixed", ""),
    ]  # fmt: skip
    assert 'href="/rules/bic-dka"' in client.get("/rules/bic-acidosis").text
