from fastapi.testclient import TestClient

from app.cautions.registry import ALL_RULES


def test_every_rule_is_told_with_levels_limits_and_sources(client: TestClient) -> None:
    told = client.get("/api/rules").json()
    assert [rule["id"] for rule in told["rules"]] == [rule.id for rule in ALL_RULES]
    for rule in told["rules"]:
        assert rule["level"]
        assert rule["sources"]
        assert all(limit["unit"] for limit in rule["limits"])
