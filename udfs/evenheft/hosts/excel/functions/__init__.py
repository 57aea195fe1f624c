"""Formulas as Excel calls them: served to xlwings, their values, and the wrappers in VBA."""
