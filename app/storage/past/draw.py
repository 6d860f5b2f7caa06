"""One invented patient being drawn: chance with the story it draws from."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from random import Random
from typing import Any, Final

from app.storage.past.stories import Stories, Story

MINUTES_PER_HOUR: Final = 60
Request = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Draw:
    """One patient being drawn. at: the moment of the request."""

    chance: Random
    stories: Stories
    story: Story
    at: datetime
    weight_kg: float

    def between(self, span: Sequence[Any], places: int = 0) -> float:
        """A number between two, rounded as wards write it."""
        number = round(self.chance.uniform(span[0], span[1]), places)
        return number if places else int(number)

    def some(self, of: Sequence[str], most: int) -> list[str]:
        """None to most of these, each once."""
        return self.chance.sample(list(of), min(len(of), self.chance.randint(0, most)))

    def happens(self, share: float) -> bool:
        """True this often."""
        return self.chance.random() < share

    def one_of(self, choices: Sequence[Any]) -> Any:  # noqa: ANN401 - of any list
        """One of these, each as likely."""
        return self.chance.choice(choices)

    def by_share(self, choices: Sequence[Story]) -> Story:
        """One of these, by its share."""
        return self.chance.choices(choices, [choice["share"] for choice in choices])[0]

    def before(self, hours: Sequence[float]) -> str:
        """A moment some hours before this one, as text."""
        ago = timedelta(minutes=round(self.chance.uniform(*hours) * MINUTES_PER_HOUR))
        return (self.at - ago).isoformat(timespec="minutes")
