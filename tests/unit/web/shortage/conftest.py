"""Words of a page, and the address of a rehearsal."""

import html
import re
from collections.abc import Callable

import pytest

SALINE = "sodium-chloride-0.9"
REHEARSAL = f"/shortage?lost={SALINE}"


def text_of(page: str) -> str:
    """What a page says, without its tags."""
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", page)).split())


@pytest.fixture
def said() -> Callable[[str], str]:
    """said(html): what a page says."""
    return text_of
