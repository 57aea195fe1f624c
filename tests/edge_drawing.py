"""Draw docs/pictures/edge.svg: a club on an edge, from the mechanics. `python tests/edge_drawing.py` writes it anew."""

from __future__ import annotations

from math import atan, degrees, radians, tan
from pathlib import Path

PICTURE = Path(__file__).parents[1] / "docs" / "pictures" / "edge.svg"
HEAD_SHARE, HEAD_ASIDE, OFF = 0.62, 4.0, 0.1
"""A driver head's share of the club [-], its centre beside the shaft's axis [cm], and how far the edge is off [cm]."""


def below() -> float:
    """How far the club's centre hangs below the shaft's axis, with the head hanging down [cm]."""
    return HEAD_SHARE * HEAD_ASIDE


def slope(off: float) -> float:
    """Slope at which a club rests whose edge is off by so much [degrees]: its centre hangs plumb below the edge."""
    return degrees(atan(off / below()))


def drawing() -> str:
    """Draw two clubs: the edge right, the shaft level; the edge off, the shaft sloping."""
    parts = [
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 640 300" font-family="sans-serif" font-size="13">',
        '<rect width="640" height="300" fill="white"/>',
    ]
    for top, tilt, words in (
        (70, 0.0, "the shaft is level: the centre hangs plumb below the edge, which is the balance"),
        (205, slope(OFF), f"{OFF * 10:g} mm off: the club rests at a slope of about {slope(OFF):.0f} degrees"),
    ):
        edge = 400
        parts += [
            f'<text x="20" y="{top - 40}">{words}</text>',
            f'<g transform="rotate({tilt:.1f} {edge} {top})">',
            f'<line x1="40" y1="{top}" x2="575" y2="{top}" stroke="black" stroke-width="3"/>',
            f'<line x1="40" y1="{top}" x2="150" y2="{top}" stroke="black" stroke-width="8"/>',
            f'<path d="M572 {top} l18 4 l-6 46 l-22 0 z" fill="#888" stroke="black"/>',
            # In the club's own frame: turned with it, the centre comes to hang plumb below the edge.
            f'<circle cx="{edge + 24 * tan(radians(tilt)):.2f}" cy="{top + 24}" r="5" fill="black"/>',
            "</g>",
            f'<path d="M{edge} {top + 2} l-9 42 h18 z" fill="none" stroke="black" stroke-width="2"/>',
        ]
    parts += ['<text x="20" y="292">black dot: the centre of mass of the whole club (not to scale)</text>', "</svg>"]
    return "\n".join(parts) + "\n"


if __name__ == "__main__":
    PICTURE.write_text(drawing(), encoding="utf-8")
