"""Heads ordered from a supplier: the workbook that goes out, what comes back, and what is received."""
