"""Mosteller, N Engl J Med 1987;317:1098 (from memory). Worked by hand."""

import pytest

from app.physiology.body import surface_m2


@pytest.mark.parametrize(
    ("height", "weight", "surface"), [(170, 70, 1.818), (110, 18, 0.7416), (160, 55, 1.563)]
)
def test_body_surface(height: float, weight: float, surface: float) -> None:
    assert surface_m2(height, weight) == pytest.approx(surface, rel=0.001)
