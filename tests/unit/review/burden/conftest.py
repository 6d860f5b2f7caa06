"""The knowledge of the replay's own tests."""

from tests.unit.review.replay.conftest import known, without_rule

__all__ = ["known", "without_rule"]
