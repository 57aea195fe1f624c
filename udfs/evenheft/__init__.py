"""Evenheft: swingweight, inertia and set matching as formulas in a club builder's spreadsheet."""

__version__ = "0.1.0"
