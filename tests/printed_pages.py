"""What stands on printed pages, read from the PDF itself: words with their places and the size of their type."""

from __future__ import annotations

import html
import re
import subprocess
from dataclasses import dataclass
from pathlib import Path

LINE_HEIGHT = 1.117
"""Ascender to descender of Liberation Sans, and so the height of a word's box, in units of the type's size [-]."""
_WORD = re.compile(r'<word xMin="([\d.]+)" yMin="([\d.]+)" xMax="([\d.]+)" yMax="([\d.]+)">(.*?)</word>')


@dataclass(frozen=True, slots=True)
class Word:
    """A printed word and its box [pt from the page's upper left corner]."""

    text: str
    left: float
    top: float
    right: float
    bottom: float

    @property
    def size(self) -> float | None:
        """Size of its type [pt]; None for one that stands upright or is too short to tell."""
        height = self.bottom - self.top
        return height / LINE_HEIGHT if len(self.text) >= 4 and self.right - self.left > height else None


def words(pdf: Path) -> list[Word]:
    """Every word of a PDF, page after page."""
    text = subprocess.run(["pdftotext", "-bbox", str(pdf), "-"], capture_output=True, text=True, check=True).stdout
    return [Word(html.unescape(found[5]), *map(float, found.groups()[:4])) for found in _WORD.finditer(text)]


def pages(pdf: Path) -> list[tuple[float, float]]:
    """Width and height of each page [pt]."""
    text = subprocess.run(["pdftotext", "-bbox", str(pdf), "-"], capture_output=True, text=True, check=True).stdout
    return [(float(w), float(h)) for w, h in re.findall(r'<page width="([\d.]+)" height="([\d.]+)"', text)]
