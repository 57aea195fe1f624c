"""What the Guide sheet of the shop book says."""

from __future__ import annotations

LINES: tuple[tuple[str, str], ...] = (
    ("What this is",
     "A workbook like any other, yours to edit. evenheft shop keep ORDER writes into it what an order "
     "taught, once, however often it is run. evenheft shop forget ORDER takes an order's rows out again. Nothing else "
     "changes it."),
    ("Ask", "Which clubs were built for a customer, and what is low."),
    ("Shop, Usual", "Your instruments, and what is usual by group: a new order is filled from here and keeps its own."),
    ("Heads", "Head models and how well their rise is known: from dry fits, weighted by their doubts, or your own."),
    ("Shafts", "One row per shaft, by the number you wrote on it."),
    ("Grips, Weights", "Count them now and then and type the day: what is kept from orders since is taken off."),
    ("Orders", "Every finished club. The customer stands here only where the order named one."),
    ("Fits", "What each dry fit taught about its head. Type 0 under Counts to leave one out."),
    ("Used", "Stock that went into clubs."),
    ("Scale", "The swingweight scale against the calculation, over all orders, with its drift."),
    ("Names", "Write a model and a shaft's number the same way everywhere: keep asks where a spelling is close to "
     "another, and never guesses."),
    ("Private", "Nothing of this book leaves with evenheft share. Keep a copy of it like of any record."),
    ("Framed, pale yellow", "You type here. Rows below the prepared ones serve as well; copy the formulas down."),
)  # fmt: skip
