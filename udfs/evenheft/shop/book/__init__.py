"""The shop book: one workbook for what outlives an order, in the shop's own hands."""
