"""The drawing of the edge is what its code draws, and docs/measuring.md says the slope that it shows."""

from __future__ import annotations

from pathlib import Path

from edge_drawing import OFF, PICTURE, below, drawing, slope

TEXT = (Path(__file__).parents[1] / "docs" / "measuring.md").read_text(encoding="utf-8")


def test_the_committed_drawing_is_what_the_code_draws() -> None:
    assert PICTURE.read_text(encoding="utf-8") == drawing()


def test_the_page_tells_the_slope_that_the_mechanics_say() -> None:
    assert f"hangs about {below():.1f} cm below" in TEXT
    assert f"a slope of about {slope(OFF):.0f} degrees" in TEXT
