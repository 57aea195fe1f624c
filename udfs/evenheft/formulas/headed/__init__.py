"""Formulas that read tables by their headings: parts, clubs, and what a bench teaches."""
