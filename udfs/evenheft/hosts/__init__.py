"""Hosts: each serves the registry's formulas in one spreadsheet engine, and does nothing else."""
