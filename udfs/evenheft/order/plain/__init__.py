"""A copy of an order for somebody without the formulas."""
