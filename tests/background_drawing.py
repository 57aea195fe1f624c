"""Draw docs/pictures/matched.svg: the demo's irons matched in swingweight, and in inertia, and what the other does.

`python tests/background_drawing.py` writes it anew and prints the table that docs/background.md holds.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from computed_orders import Sheets
from evenheft.formulas import REGISTRY, call
from evenheft.mechanics.swingweight import FULCRUM, POINT
from evenheft.order.demo import DEMO_CLUBS, build_demo
from evenheft.order.layout import BENCH, FIX, SET

PICTURE = Path(__file__).parents[1] / "docs" / "pictures" / "matched.svg"
MATCHED = "D2"
"""The swingweight to which all of them are brought."""


@dataclass(frozen=True)
class Matched:
    """One of the demo's irons: as measured, and once it is matched by grams at its head."""

    club: str
    points: float
    """As measured [points]."""
    inertia: float
    """As measured [kg cm2]."""
    inertia_then: float
    """Once its swingweight is matched [kg cm2]."""
    points_then: float
    """Once its inertia is matched to the middle iron's [points]."""

    @property
    def row(self) -> str:
        """Its row in the page's table."""
        then = call(REGISTRY["HEFT_LABEL"], [self.points_then])
        now = call(REGISTRY["HEFT_LABEL"], [self.points])
        return f"| {self.club} | {now} | {self.inertia:.0f} | {self.inertia_then:.0f} | {then} |"


def irons() -> list[Matched]:
    """Match the demo's irons both ways, each by what it measured and by a mass at its own head."""
    sheets = Sheets(build_demo())
    names = [club.name for club in DEMO_CLUBS if club.group == "Irons"]
    inertias = [sheets.number(BENCH, "inertia_used", name) for name in names]
    middle = inertias[len(inertias) // 2]
    return [_matched(sheets, name, inertia, middle) for name, inertia in zip(names, inertias, strict=True)]


def _matched(sheets: Sheets, name: str, inertia: float, middle: float) -> Matched:
    mass, balance = (sheets.number(BENCH, key, name) for key in ("mass_used", "balance_used"))
    points = sheets.number(SET, "swingweight_number", name)
    place = sheets.number(FIX, "head_place", name)
    grams = call(REGISTRY["HEFT_GRAMS_TO"], [MATCHED, mass, balance, place])
    assert isinstance(grams, float)
    instead = (middle - inertia) * 1000 / place**2  # g: a point mass adds its own mass x distance squared
    return Matched(
        name,
        points,
        inertia,
        inertia + grams * place**2 / 1000,
        points + instead * (place - FULCRUM) / POINT,
    )


def drawing(clubs: Sequence[Matched]) -> str:
    """Draw both: what inertia does in a set of one swingweight, and swingweight in a set of one inertia."""
    parts = [
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 720 260" font-family="sans-serif" font-size="13">',
        "<title>The demo's irons: matched in swingweight their inertia falls from club to club, matched in inertia "
        "their swingweight rises</title>",
        '<rect width="720" height="260" fill="white"/>',
        *_panel(30, f"all {MATCHED}: inertia (kg cm2)", [(c.club, c.inertia_then, f"{c.inertia_then:.0f}")
                                                         for c in clubs]),
        *_panel(390, "all of one inertia: swingweight",
                [(c.club, c.points_then, str(call(REGISTRY["HEFT_LABEL"], [c.points_then]))) for c in clubs]),
        "</svg>",
    ]  # fmt: skip
    return "\n".join(parts) + "\n"


def _panel(left: int, title: str, clubs: Sequence[tuple[str, float, str]]) -> list[str]:
    low, high = min(value for _, value, _ in clubs), max(value for _, value, _ in clubs)
    at = [(left + 30 + 60 * n, 190 - 110 * (value - low) / (high - low)) for n, (_, value, _) in enumerate(clubs)]
    line = " ".join(f"{x},{y:.1f}" for x, y in at)
    parts = [
        f'<text x="{left}" y="28" font-weight="bold">{title}</text>',
        f'<line x1="{left}" y1="210" x2="{left + 300}" y2="210" stroke="black"/>',
        f'<polyline points="{line}" fill="none" stroke="#2f4858" stroke-width="2"/>',
    ]
    for (x, y), (club, _, shown) in zip(at, clubs, strict=True):
        parts += [
            f'<circle cx="{x}" cy="{y:.1f}" r="4" fill="#2f4858"/>',
            f'<text x="{x}" y="{y - 12:.1f}" text-anchor="middle">{shown}</text>',
            f'<text x="{x}" y="230" text-anchor="middle">{club}</text>',
        ]
    return parts


if __name__ == "__main__":
    PICTURE.write_text(drawing(irons()), encoding="utf-8")
    print("\n".join(club.row for club in irons()))
