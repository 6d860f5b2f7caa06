"""Parts of text joined into sentences that can be read aloud."""

from typing import Final

ENDINGS: Final = (".", "?", "!")


def as_sentence(text: str) -> str:
    """The text with exactly one end mark."""
    text = text.strip()
    return text if text.endswith(ENDINGS) else f"{text}."
